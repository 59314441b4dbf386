// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Marks.h"
#include "Screens/Picture.h"

// Purpose: writes texts and shapes into a picture, and knows how much room a text takes.
// Units:   pixels; a text stands on its baseline.
// Thread:  message.
namespace couplet {

class Pen
{
public:
    explicit Pen(const Fonts& f) : fonts(f) {}

    float width(const std::string& text, const TextStyle& style) const { return fonts.width(text, style); }

    // From x to the right, ending at x, or about x, within `room` pixels in all.
    void left(const std::string&, float x, float baseline, float room, const TextStyle&);
    void right(const std::string&, float x, float baseline, float room, const TextStyle&);
    void centre(const std::string&, float x, float baseline, float room, const TextStyle&);

    // The text on as many lines as it needs, at most `most`; says how many it took. What is left over is not drawn, so
    // ask linesFor first when it must not be.
    int paragraph(const std::string&, float x, float baseline, float room, float pitch, int most, const TextStyle&);
    int linesFor(const std::string&, float room, const TextStyle&) const;

    // Shortened in its middle by an ellipsis until it fits: for names, which may be as long as their owner likes.
    std::string shortened(const std::string&, float room, const TextStyle&) const;
    // At its end, and the level in it stands whole: part of a number is another number.
    std::string shortenedAroundNumber(const std::string&, float room, const TextStyle&) const;

    void line(float x1, float y1, float x2, float y2, juce::Colour, float thickness);
    void dashes(float x1, float x2, float y, juce::Colour, float thickness);
    void box(juce::Rectangle<float>, float corner, juce::Colour fill, juce::Colour edge);
    void fill(const juce::Path&, juce::Colour);
    void stroke(const juce::Path&, juce::Colour, float thickness);
    void mark(Mark, float x, float middle, float size, juce::Colour);

    // A word in a rounded outline, ending at x; says how wide it is.
    static float tagWidth(float textWidth) { return textWidth + 14.0f; }
    float tag(const std::string&, float right, float baseline, const TextStyle&, juce::Colour background);

    Picture picture;

private:
    std::vector<std::string> linesOf(const std::string&, float room, const TextStyle&) const;
    void add(const std::string&, Align, float left, float baseline, float room, const TextStyle&);

    const Fonts& fonts;
};

} // namespace couplet
