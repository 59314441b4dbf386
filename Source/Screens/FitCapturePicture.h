// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/FitView.h"
#include "Screens/Measures.h"
#include "Screens/Picture.h"

// Purpose: the capture as it is seen from a metre away, by somebody with both hands full: a mark and a word for what
//          happens, the last reading, and how many there are.
// Units:   dB; pixels at scale 1.
// Thread:  message.
namespace couplet {

// `flashes`: a reading was kept just now. Nothing is drawn below `bottom`.
Picture fitCapturePicture(const FitView&, bool flashes, juce::Point<float> size, float bottom, const Measures&,
                          const Fonts&);

} // namespace couplet
