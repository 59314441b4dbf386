// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Chip.h"
#include "Screens/FitTexts.h"
#include "Screens/Measures.h"
#include "Screens/NumberCanvas.h"

#include <functional>

// Purpose: reasons at length, in place of the plot: paragraphs under headings, scrolled where they need it.
// Keys:    as NumberCanvas; up and down scroll, escape closes.
// Thread:  message.
namespace couplet {

class FitTextPanel : public juce::Component
{
public:
    explicit FitTextPanel(const std::string& title);
    ~FitTextPanel() override;

    void show(std::vector<FitParagraph>, const Measures&);
    void setHeadRoom(float); // left free above the text, below the title
    NumberCanvas text;
    std::function<void()> onClose;

    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;

private:
    void draw();

    juce::SharedResourcePointer<Fonts> fonts;
    const std::string title;
    Canvas heading;
    juce::Viewport scroll;
    Chip close{Chip::Kind::link, "close", 13.0f};
    std::vector<FitParagraph> paragraphs;
    Measures measures;
    float headRoom = 0.0f;
};

} // namespace couplet
