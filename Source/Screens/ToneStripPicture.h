// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Measures.h"

// Purpose: the checks on the tone, side by side in a strip. A check that fails has a mark before its value.
// Thread:  message.
namespace couplet {

Picture toneStripPicture(const LiveView&, juce::Point<float> size, const Measures&, const Fonts&);

} // namespace couplet
