// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/ReferenceView.h"
#include "Screens/Measures.h"

// Purpose: the card beside the sum: is the tone fit, and how far the capture is; or what a quick check came to.
// Units:   pixels at scale 1.
// Thread:  message.
namespace couplet {

// Each check with its value and a mark; the state as a sign; progress and sentences below it.
Picture referenceTonePicture(const ReferenceView&, juce::Point<float> size, const Measures&, const Fonts&);

// `bottom`: below it stand the controls.
Picture quickCheckPicture(const QuickCheck&, juce::Point<float> size, float bottom, const Measures&, const Fonts&);

} // namespace couplet
