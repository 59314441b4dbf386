// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/TextField.h"

namespace couplet {

TextField::TextField(const std::string& title, float size)
{
    setTitle(juce::String::fromUTF8(title.c_str()));
    setFont(fonts->font({size}));
    setIndents(8, 2);
    setJustification(juce::Justification::centredLeft);
    setSelectAllWhenFocused(true);
}

// What the theme's typeface cannot write the platform's own does.
void TextField::setWords(const std::string& words)
{
    setText(juce::String::fromUTF8(words.c_str()), false);
}

void TextField::setHint(const std::string& hint)
{
    setTextToShowWhenEmpty(juce::String::fromUTF8(hint.c_str()), colours::grey);
}

} // namespace couplet
