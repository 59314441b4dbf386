// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Picture.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: the numbers that stand in a picture, so that each can be pointed at and copied.
// Units:   pixels, as the picture's.
// Thread:  message.
namespace couplet {

struct DrawnNumber
{
    std::string text; // as it stands there: "1.40", "−0.31"
    juce::Rectangle<float> area;
    juce::Rectangle<float> word; // the letters of what it stands in: "±0.45", "(95", "1.86."
    bool operator==(const DrawnNumber&) const = default;
};

// In the order of drawing. A word that holds a digit among letters is none.
std::vector<DrawnNumber> numbersIn(const Picture&, const Fonts&);

// The one under the point, or else the nearest one of the text under it.
std::optional<DrawnNumber> numberAt(const Picture&, juce::Point<float>, const Fonts&);

// As a spreadsheet reads it: with a hyphen for the minus sign.
std::string copiedText(const std::string& number);

// The ring around a number that was chosen by keyboard.
void ringNumber(Picture&, const DrawnNumber&);

} // namespace couplet
