// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Canvas.h"
#include "Screens/SpectrumPicture.h"

// Purpose: the spectrum, or the tone's orders, with what lies under the pointer; a right click copies the numbers.
//          New results are drawn every 200 ms at most, but what changes the sense of the picture at once.
// Thread:  message.
namespace couplet {

class SpectrumPanel : public juce::Component, private juce::Timer
{
public:
    static constexpr int leastPause_ms = 200;

    SpectrumPanel();

    void show(const LiveView&, const Measures&);
    void showOrders(bool); // instead of the spectrum
    // The words above the plot stand to the right of it.
    void setLegendStart(float);

    std::string table() const; // of what is shown
    std::function<void(const juce::String&)> toClipboard = [](const juce::String& text) {
        juce::SystemClipboard::copyTextToClipboard(text);
    };

    void resized() override;
    void visibilityChanged() override;
    void mouseMove(const juce::MouseEvent&) override;
    void mouseDrag(const juce::MouseEvent& event) override { mouseMove(event); }
    void mouseDown(const juce::MouseEvent&) override;
    void mouseExit(const juce::MouseEvent&) override;

private:
    void timerCallback() override;
    void take(const SpectrumContent&);
    bool changesTheSense(const SpectrumContent&) const;
    void draw();
    void drawWords();
    std::optional<double> pointedAt() const;

    juce::SharedResourcePointer<Fonts> fonts;
    Canvas plot, words, mark;
    SpectrumContent shown;
    std::optional<SpectrumContent> waiting;
    std::optional<juce::uint32> taken_ms;
    std::optional<LevelRange> range;
    std::optional<juce::Point<float>> pointer;
    bool orders = false, copied = false;
    float legendStart = 0.0f;
    Measures measures;
};

} // namespace couplet
