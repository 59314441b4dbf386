// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Canvas.h"
#include "Screens/CopiedNumbers.h"

#include <functional>

// Purpose: a picture whose numbers can be copied: by a right click on one, or by going to it with the keyboard.
// Keys:    left and right go through the numbers, Ctrl+C copies the one in the ring.
// Thread:  message.
namespace couplet {

class NumberCanvas : public juce::Component
{
public:
    explicit NumberCanvas(const std::string& title);

    void setPicture(Picture);
    const Picture& picture() const { return plain; }
    const DrawnNumber* chosenNumber() const;

    std::function<void(const std::string& number)> onCopy;
    std::function<void(juce::Rectangle<float>)> onChosen; // where it is, to have it in sight

    void resized() override { canvas.setBounds(getLocalBounds()); }
    void mouseDown(const juce::MouseEvent&) override;
    bool keyPressed(const juce::KeyPress&) override;
    void focusGained(FocusChangeType) override { draw(); }
    void focusLost(FocusChangeType) override { draw(); }

private:
    void draw();
    void step(int by);

    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    Picture plain;
    std::vector<DrawnNumber> numbers;
    std::size_t chosen = 0;
};

// Ctrl+C.
bool isCopyKey(const juce::KeyPress&);

} // namespace couplet
