// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Bars.h"
#include "Screens/FilePicker.h"
#include "Screens/ReferenceBudgetCard.h"
#include "Screens/ReferenceHistoryCard.h"
#include "Screens/ReferenceSheet.h"
#include "Screens/ReferenceSumCard.h"
#include "Screens/ReferenceToneCard.h"
#include "Screens/SheetBar.h"
#include "Screens/SimulatedBar.h"

// Purpose: takes a reference: from the calibrator to the offset, the tone's fitness and the capture, what came before, and
//          where the uncertainty comes from.
// Keys:    up and down choose the calibrator, a digit says how many seatings, Return takes, A takes hands-free, K checks
//          quickly, L hears the second level; M keeps a result that moved, escape discards it; while it runs space finishes with the seatings kept, Ctrl+Z drops the newest, escape cancels; afterwards
//          Ctrl+Z undoes. T table, B budget and terms, N notes, Delete sets the selected reference aside, Ctrl+S exports.
//          Tab reaches everything.
// Thread:  message.
namespace couplet {

class ReferencePage : public juce::Component
{
public:
    explicit ReferencePage(Controls&);

    void useReferences(ReferenceControls*); // null: it shows and asks for nothing
    void show(const LiveView&);
    void show(const ReferenceView&);
    void setMeasures(const Measures&);
    void focusTake();
    void openSheet(ReferenceSheet::What);
    void select(std::size_t index); // of the history
    void closeCheck() { tone.closeCheck(); }

    FilePicker picker;

    void resized() override { layOut(); }
    void visibilityChanged() override { layOut(); }
    bool keyPressed(const juce::KeyPress&) override;

private:
    void connect();
    bool letterKey(const juce::KeyPress&);
    bool beginKey(juce::juce_wchar letter, juce::juce_wchar digit);
    bool commandKey(const juce::KeyPress&);
    void askExport();
    void say(const std::string&, bool refused);
    std::vector<std::string> sentences() const;
    float barsHeight(float width) const;
    float layOutBars(float width);
    void layOut();
    void drawHead(float top, bool there);
    void fill();

    juce::SharedResourcePointer<Fonts> fonts;
    ReferenceControls* controls = nullptr;
    Measures measures;
    LiveView live;
    ReferenceView view;
    std::optional<std::size_t> selected; // absent: the newest
    LoopBar loop;
    NoticeBar notice;
    SimulatedBar simulated;
    Canvas head;
    ReferenceSumCard sum;
    ReferenceToneCard tone;
    ReferenceHistoryCard history;
    ReferenceBudgetCard budget;
    ReferenceSheet sheet;
    SheetBar bar; // what became of an export, or the line for its path
    float barsShown = -1.0f;
};

} // namespace couplet
