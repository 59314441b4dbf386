// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/ReferenceView.h"
#include "Screens/AsideBar.h"
#include "Screens/HistoryChart.h"

#include <functional>

// Purpose: what came before: the control chart with the selected reference, the band, the drift and when the next is due.
// Keys:    Delete sets the selected reference aside, or puts it back.
// Thread:  message.
namespace couplet {

class ReferenceHistoryCard : public juce::Component
{
public:
    ReferenceHistoryCard();

    void show(const ReferenceView&, std::optional<std::size_t> selected);
    void setMeasures(const Measures& m) { measures = m; }

    std::function<void()> onTable, onExport;
    HistoryChart chart;
    AsideBar aside;

    void resized() override { draw(); }
    bool keyPressed(const juce::KeyPress&) override;

private:
    void draw();
    float drawLines(Pen&, float bottom);

    juce::SharedResourcePointer<Fonts> fonts;
    Measures measures;
    ReferenceView view;
    std::optional<std::size_t> selected;
    Canvas canvas;
    Chip table{Chip::Kind::link, "show as table"}, save{Chip::Kind::link, "export"};
};

} // namespace couplet
