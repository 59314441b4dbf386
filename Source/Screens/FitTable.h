// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/CopiedNumbers.h"
#include "Screens/FitTablePicture.h"

#include <functional>

// Purpose: the fit's table, a list that scrolls: one row is selected, one number of it may be in the ring. Only rows in
//          sight are drawn.
// Keys:    up and down go through the rows, left and right through a row's numbers, Ctrl+C copies the number in the
//          ring, or else the whole row; Return opens a group or corrects a reading, Delete sets a reading aside (or an insertion) or
//          removes what is selected.
// Mouse:   a click selects, one on the triangle opens; a right click on a number copies it; a double click is Return.
// Thread:  message.
namespace couplet {

class FitTable : public juce::ListBox, private juce::ListBoxModel
{
public:
    explicit FitTable(const FitView&); // which is to stay
    ~FitTable() override;

    void show(const Measures&);        // the view as it is now
    const FitRow* selectedRow() const; // null: none
    void select(const FitRow&);
    void toggle(const FitTarget&);
    void renamed(const FitTarget&, const std::string& name); // it stays open
    const std::vector<FitRow>& allRows() const { return rows; }
    float rowWidth() const; // beside the scroll bar, where there is one

    std::function<void()> onRows; // there are others: a scroll bar may have come or gone
    std::function<void()> onSelect;
    std::function<void()> onCorrect; // the selected reading
    std::function<void()> onDelete;  // what is selected
    std::function<void(const std::string&)> onCopy;

    bool keyPressed(const juce::KeyPress&) override;
    void focusOfChildComponentChanged(FocusChangeType) override { updateContent(); }
    void focusGained(FocusChangeType) override { updateContent(); }
    void focusLost(FocusChangeType) override { updateContent(); }
    void listBoxItemClicked(int row, const juce::MouseEvent&) override;

private:
    int getNumRows() override { return static_cast<int>(rows.size()); }
    void paintListBoxItem(int, juce::Graphics&, int, int, bool) override {}
    juce::Component* refreshComponentForRow(int row, bool isChosen, juce::Component* before) override;
    void selectedRowsChanged(int lastRow) override;
    void listBoxItemDoubleClicked(int row, const juce::MouseEvent&) override;
    void returnKeyPressed(int) override;
    void deleteKeyPressed(int) override;
    juce::String getNameForRow(int row) override;

    Picture pictureOf(std::size_t row) const;
    void refill();
    void stepCell(int by);
    void copySelected();

    juce::SharedResourcePointer<Fonts> fonts;
    const FitView& view;
    Measures measures;
    std::vector<FitRow> rows;
    OpenedGroups opened;
    std::optional<FitTarget> shownTarget;
    int cell = -1; // number of the selected row in the ring; -1: none
    bool filling = false;
};

} // namespace couplet
