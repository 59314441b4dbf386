// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Canvas.h"
#include "Screens/EvidencePicture.h"

#include <functional>

// Purpose: the plot of a fit's evidence; what lies under the pointer is told in figures, and a right click copies the
//          nearest of them. Without a fit it says what to do first.
// Keys:    up and down go through the items, left and right through an item's figures, Ctrl+C copies the figure.
// Thread:  message.
namespace couplet {

class EvidencePanel : public juce::Component
{
public:
    explicit EvidencePanel(const FitView&); // which is to stay

    void show(const Measures&); // the view as it is now
    std::function<void(const std::string&)> onCopy;

    void resized() override;
    void mouseMove(const juce::MouseEvent&) override;
    void mouseExit(const juce::MouseEvent&) override;
    void mouseDown(const juce::MouseEvent&) override;
    bool keyPressed(const juce::KeyPress&) override;
    void focusGained(FocusChangeType) override;
    void focusLost(FocusChangeType) override;

private:
    juce::Point<float> size() const { return getLocalBounds().getBottomRight().toFloat(); }
    EvidencePlot plot() const;
    void draw();
    void drawWords();
    void drawFirstSteps();
    void pointAt(std::optional<std::size_t> item, std::size_t number);

    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas, words;
    const FitView& view;
    std::vector<EvidenceItem> items;
    Measures measures;
    std::optional<std::size_t> pointed; // an item, or their number for the density
    std::size_t figure = 0;             // of its figures
};

} // namespace couplet
