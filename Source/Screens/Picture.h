// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Theme.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: what a part of a page looks like, as a value: two equal pictures need no repaint, and a test can ask whether
//          each text has the room it needs. Pictures are made from a view and a size; drawing one decides nothing.
// Units:   pixels at scale 1, from the top left of the component that shows it.
// Thread:  message.
namespace couplet {

enum class Align { left, centre, right };

struct DrawnText
{
    std::string text;
    TextStyle style;
    Align align = Align::left;
    juce::Rectangle<float> room; // where it may stand; its height is the style's own
    float width = 0.0f;          // what it takes

    float baseline() const { return room.getY() + Fonts::ascent(style); }
    float left() const;
    juce::Rectangle<float> ink() const { return room.withX(left()).withWidth(width); }
    bool fits() const { return width <= room.getWidth() + 0.5f; }
    bool operator==(const DrawnText&) const = default;
};

struct DrawnShape
{
    juce::Path path;
    juce::Colour colour;
    float stroke = 0.0f; // 0: filled

    juce::Rectangle<float> bounds() const { return path.getBounds().expanded(stroke + 1.0f); }
    bool operator==(const DrawnShape&) const = default;
};

struct Picture
{
    std::vector<DrawnShape> shapes; // under the texts, first one lowest
    std::vector<DrawnText> texts;

    bool operator==(const Picture&) const = default;
    void draw(juce::Graphics&, const Fonts&) const;
    // All texts in the order of drawing, for those who listen.
    std::string spoken() const;
};

// What has to be painted again to get from one picture to the other; absent: nothing.
std::optional<juce::Rectangle<float>> changedArea(const Picture& before, const Picture& after);

} // namespace couplet
