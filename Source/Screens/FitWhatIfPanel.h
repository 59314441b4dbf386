// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/FitTextPanel.h"
#include "Screens/TextField.h"

// Purpose: what more readings would do: asks for the wanted uncertainty, answers group by group.
// Keys:    Return in the field asks, escape closes.
// Thread:  message.
namespace couplet {

class FitWhatIfPanel : public juce::Component
{
public:
    FitWhatIfPanel(FitControls&, const FitView&); // which are to stay

    void open();                // with the keyboard in its field
    void show(const Measures&); // the view as it is now
    void ask();                 // as Return does
    TextField wanted{"Wanted U, dB", 13.0f};
    FitTextPanel answers{"What would more readings do?"};
    std::function<void()> onClose;

    void resized() override;

private:
    void drawField();

    juce::SharedResourcePointer<Fonts> fonts;
    FitControls& controls;
    const FitView& view;
    Canvas label;
    Chip work{Chip::Kind::link, "work it out", 13.0f};
    Measures measures;
    std::string refusal;
};

} // namespace couplet
