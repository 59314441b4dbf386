// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/ReferenceView.h"
#include "Screens/AsideBar.h"
#include "Screens/HistoryTable.h"
#include "Screens/JudgedTermsEditor.h"

#include <functional>

// Purpose: over the cards of the Reference page, what needs their whole room: all references as a table, the budget as a
//          table with the terms that can be set, or all that has to be known.
// Keys:    in the table up and down, Delete sets aside or puts back; escape closes.
// Thread:  message.
namespace couplet {

class ReferenceSheet : public juce::Component
{
public:
    enum class What { nothing, history, budget, remarks };

    ReferenceSheet();

    void open(What);
    What what() const { return shown; }
    void show(const ReferenceView&, std::optional<std::size_t> selected);
    void setMeasures(const Measures&);

    std::function<void()> onClose, onExport;
    std::function<void(std::size_t)> onSelect;
    HistoryTable table;
    AsideBar aside;
    JudgedTermsEditor terms;

    void paint(juce::Graphics& g) override { g.fillAll(colours::paper); }
    void resized() override { draw(); }
    bool keyPressed(const juce::KeyPress&) override;

private:
    void draw();
    void drawHistory(Pen&, float top);
    void drawBudget(Pen&, float top);
    void drawRemarks(Pen&, float top);
    std::string title() const;

    juce::SharedResourcePointer<Fonts> fonts;
    Measures measures;
    ReferenceView view;
    std::optional<std::size_t> selected;
    What shown = What::nothing;
    Canvas canvas;
    Chip close{Chip::Kind::link, "close", 13.0f}, save{Chip::Kind::link, "export", 13.0f};
};

} // namespace couplet
