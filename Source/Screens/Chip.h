// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Pen.h"

#include <functional>
#include <string>

// Purpose: a word to press: a tab, one of several choices, a command, or a word that opens a list. By mouse, by Return
//          and by the space bar; the one with the keyboard has a ring around it.
// Thread:  message.
namespace couplet {

class Chip : public juce::Button
{
public:
    enum class Kind {
        choice, // on: filled
        link,   // a word in blue
        opens,  // a word with a small triangle
        solid   // filled: the one thing to do
    };

    Chip(Kind, const std::string& text, float size = 14.0f);

    void setText(const std::string&); // repaints when it differs
    void setSize(float textSize);
    void setOn(bool on) { setToggleState(on, juce::dontSendNotification); }
    float wantedWidth() const;
    // Its middle left or middle right at that place, as wide as it wants to be.
    void placeLeft(float x, float middle, float height);
    void placeRight(float x, float middle, float height);

    Picture picture(bool focused) const;

    void paintButton(juce::Graphics&, bool highlighted, bool down) override;
    bool keyPressed(const juce::KeyPress&) override;

private:
    TextStyle style() const;

    juce::SharedResourcePointer<Fonts> fonts;
    const Kind kind;
    std::string text;
    float size;
};

// The ring around what has the keyboard.
void drawFocusRing(Pen&, juce::Rectangle<float> within);

} // namespace couplet
