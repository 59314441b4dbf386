// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <map>
#include <string>

// Purpose: the look of every page: its colours, and its one typeface, which travels inside the program.
// Units:   text sizes are the em in pixels at scale 1, as drawings have them.
// Thread:  message.
namespace couplet {

// Measured is blue and expected is brown wherever they stand, and neither ever changes with a state.
namespace colours {
inline const juce::Colour paper(0xfff6f3ea);
inline const juce::Colour card(0xfffffdf7);
inline const juce::Colour edge(0xffd9d3c3);
inline const juce::Colour ink(0xff20292e);
inline const juce::Colour grey(0xff6b7378);
inline const juce::Colour measured(0xff1d4e89);
inline const juce::Colour expected(0xffa05a10);
} // namespace colours

struct TextStyle
{
    float size = 14.0f;
    bool bold = false;
    juce::Colour colour = colours::ink;

    bool operator==(const TextStyle&) const = default;
};

// Holds the typefaces for as long as somebody shows text: take it by juce::SharedResourcePointer<Fonts>, so that it is
// gone before the framework looks for leaks.
class Fonts
{
public:
    Fonts();

    // For that text: names may be in any script, and what the theme's typeface cannot write the platform's own does.
    juce::Font font(const TextStyle&, const juce::String& text = {}) const;
    float width(const std::string&, const TextStyle&) const;
    // Of any text of that style, above and below its baseline.
    static float ascent(const TextStyle& style) { return 0.80f * style.size; }
    static float descent(const TextStyle& style) { return 0.22f * style.size; }

private:
    bool canWrite(const juce::String&) const;
    bool has(juce::juce_wchar) const;

    juce::Typeface::Ptr regular, bold;
    juce::Path missing; // what stands for a character that is not there
    mutable std::map<juce::juce_wchar, bool> known;
};

} // namespace couplet
