// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceHistory.h"
#include "Screens/Canvas.h"
#include "Screens/Measures.h"

#include <functional>
#include <optional>

// Purpose: the control chart, in which a reference is selected.
// Keys:    left and right go from one to the next, Home and End to the first and the last; a click selects the nearest.
// Thread:  message.
namespace couplet {

class HistoryChart : public juce::Component
{
public:
    HistoryChart();

    void show(const ReferenceHistory&, std::optional<std::size_t> selected, const Measures&);
    std::function<void(std::size_t)> onSelect;

    void resized() override { draw(); }
    void focusGained(FocusChangeType) override { draw(); }
    void focusLost(FocusChangeType) override { draw(); }
    bool keyPressed(const juce::KeyPress&) override;
    void mouseDown(const juce::MouseEvent&) override;

private:
    void draw();

    juce::SharedResourcePointer<Fonts> fonts;
    Measures measures;
    ReferenceHistory history;
    std::optional<std::size_t> selected;
    Canvas canvas;
};

} // namespace couplet
