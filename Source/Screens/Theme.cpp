// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Theme.h"

#include <BinaryData.h>

namespace couplet {

Fonts::Fonts()
    : regular(juce::Typeface::createSystemTypefaceFor(couplet_assets::B612Regular_otf,
                                                      couplet_assets::B612Regular_otfSize)),
      bold(juce::Typeface::createSystemTypefaceFor(couplet_assets::B612Bold_otf, couplet_assets::B612Bold_otfSize))
{
    constexpr juce::juce_wchar noCharacter = 0xffff;
    regular->getOutlineForGlyph(static_cast<int>(noCharacter), missing);
}

bool Fonts::has(juce::juce_wchar character) const
{
    if (character < 0x80)
        return true;
    const auto found = known.find(character);
    if (found != known.end())
        return found->second;
    juce::Path outline;
    regular->getOutlineForGlyph(static_cast<int>(character), outline);
    return known[character] = !(outline == missing);
}

bool Fonts::canWrite(const juce::String& text) const
{
    for (auto c = text.getCharPointer(); !c.isEmpty();)
        if (!has(c.getAndAdvance()))
            return false;
    return true;
}

juce::Font Fonts::font(const TextStyle& style, const juce::String& text) const
{
    if (!canWrite(text))
        return juce::Font(style.size, style.bold ? juce::Font::bold : juce::Font::plain).withPointHeight(style.size);
    // The framework's height of a font runs from the ascender to the descender of its hhea table, of which B612 has
    // 1930 and -500 to an em of 2000.
    constexpr float heightPerEm = (1930.0f + 500.0f) / 2000.0f;
    return juce::Font(style.bold ? bold : regular).withHeight(style.size * heightPerEm);
}

float Fonts::width(const std::string& text, const TextStyle& style) const
{
    const auto shown = juce::String::fromUTF8(text.c_str());
    return font(style, shown).getStringWidthFloat(shown);
}

} // namespace couplet
