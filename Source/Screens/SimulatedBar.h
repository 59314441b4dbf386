// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/VoltsField.h"

// Purpose: what lies on the simulated coupler: nothing, the calibrator, or a side of an earphone with its drive.
// Thread:  message.
namespace couplet {

class SimulatedBar : public juce::Component
{
public:
    explicit SimulatedBar(Controls&);

    void show(const LiveView&);
    float heightFor() const { return there ? (refusal.empty() ? 36.0f : 56.0f) : 0.0f; }
    std::function<void()> onHeight;

    void resized() override;

private:
    void put(OnCoupler);
    void chooseEarphone();
    void drawTexts();

    juce::SharedResourcePointer<Fonts> fonts;
    Controls& controls;
    Canvas canvas;
    Chip nothing{Chip::Kind::choice, "nothing", 13.0f}, calibrator{Chip::Kind::choice, "calibrator", 13.0f};
    Chip earphone{Chip::Kind::opens, "an earphone", 13.0f};
    Chip left{Chip::Kind::choice, "left", 13.0f}, right{Chip::Kind::choice, "right", 13.0f};
    VoltsField drive{"Drive of the simulated earphone, V RMS"};
    Chip leave{Chip::Kind::link, "leave", 13.0f};
    OnCoupler on;
    bool there = false;
    std::string refusal;
};

} // namespace couplet
