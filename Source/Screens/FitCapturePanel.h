// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Chip.h"
#include "Screens/FitCapturePicture.h"
#include "Screens/NumberCanvas.h"

#include <functional>

// Purpose: the capture with both hands full, in place of the plot: what happens, large, and the three things to press.
// Thread:  message.
namespace couplet {

class FitCapturePanel : public juce::Component, private juce::Timer
{
public:
    static constexpr int flash_ms = 900;

    FitCapturePanel(FitControls&, const FitView&); // which are to stay

    void show(const Measures&); // the view as it is now
    void flash();               // a reading was kept
    void endFlash();
    bool isFlashing() const { return flashes; }
    std::function<void()> onFlashEnds;
    NumberCanvas large{"Capture"}; // has the keyboard while the capture is armed

    void resized() override;

private:
    void timerCallback() override { endFlash(); }
    void draw();

    juce::SharedResourcePointer<Fonts> fonts;
    FitControls& controls;
    Chip one{Chip::Kind::link, "take one now", 13.0f}, next{Chip::Kind::link, "next group", 13.0f};
    Chip end{Chip::Kind::link, "end the capture", 13.0f};
    const FitView& view;
    Measures measures;
    bool flashes = false;
};

} // namespace couplet
