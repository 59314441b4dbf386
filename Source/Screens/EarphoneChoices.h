// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/VoltsField.h"

// Purpose: a row of choices: which earphone is on the coupler, which of its sides, and the voltage that it gets.
// Thread:  message.
namespace couplet {

class EarphoneChoices : public juce::Component
{
public:
    explicit EarphoneChoices(Controls&);

    void show(const LiveView&);
    float heightFor() const { return refusal.empty() ? 52.0f : 72.0f; }
    juce::PopupMenu menu() const; // ids: 1 + slot

    std::function<void()> onClose;
    std::function<void()> onHeight;

    void resized() override;
    bool keyPressed(const juce::KeyPress&) override; // escape closes

private:
    void chooseEarphone();
    void drawTexts();

    juce::SharedResourcePointer<Fonts> fonts;
    Controls& controls;
    Canvas canvas;
    Chip earphone{Chip::Kind::opens, "choose an earphone", 13.0f};
    Chip left{Chip::Kind::choice, "left", 13.0f}, right{Chip::Kind::choice, "right", 13.0f};
    Chip neither{Chip::Kind::choice, "not said", 13.0f};
    VoltsField drive{"Drive, V RMS"};
    Chip close{Chip::Kind::link, "close", 13.0f};
    std::array<std::string, 32> names;
    int slot = 0;
    std::string driveText, refusal;
};

} // namespace couplet
