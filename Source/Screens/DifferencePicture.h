// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Measures.h"

// Purpose: the middle of the Read page: the difference, a scale with the band that is allowed and a marker where the
//          difference lies, and the verdict.
// Units:   dB.
// Thread:  message.
namespace couplet {

Picture differencePicture(const LiveView&, juce::Point<float> size, const Measures&, const Fonts&);

// The scale reaches to both sides as far as this: 3, 6, 12, 24 or 60 dB, whatever holds difference and band.
double scaleReach_dB(const Reading&);

} // namespace couplet
