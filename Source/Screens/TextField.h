// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Theme.h"

#include <string>

// Purpose: a line of text to be typed, in the theme's typeface.
// Thread:  message.
namespace couplet {

class TextField : public juce::TextEditor
{
public:
    explicit TextField(const std::string& title, float size = 13.0f);

    void setWords(const std::string&); // without telling anybody
    std::string words() const { return getText().toStdString(); }
    void setHint(const std::string&);

private:
    juce::SharedResourcePointer<Fonts> fonts;
};

} // namespace couplet
