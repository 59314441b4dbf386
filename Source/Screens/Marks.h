// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Picture.h"

#include <vector>

// Purpose: the small signs beside words. Each differs from the others by its form, never by its colour alone.
// Thread:  message.
namespace couplet {

enum class Mark {
    whole,    // filled diamond: a reference in force
    half,     // diamond, half filled: stale
    hollow,   // diamond, empty: none
    agrees,   // tick
    differs,  // not-equal sign
    unclear,  // two waves
    silent,   // ring
    attention // triangle with a bar
};

std::vector<DrawnShape> markShapes(Mark, juce::Rectangle<float>, juce::Colour);

// The small triangle that says 'opens'.
juce::Path caret(float centreX, float middle, float size);

} // namespace couplet
