// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"
#include "Screens/Canvas.h"
#include "Screens/Pen.h"

#include <functional>
#include <string>
#include <vector>

// Purpose: the couplers that the search lets through, one row each with slot, name, kind and the state of its reference;
//          below them 'no coupler', the simulated bench, and the files that cannot be read; one row that says so where the
//          search lets nothing through. Only rows in sight are drawn.
// Thread:  message.
namespace couplet {

struct ListEntry
{
    enum class What { coupler, none, simulated, unreadable, notFound };
    What what = What::none;
    std::size_t row = 0; // of LibraryView::rows
    bool operator==(const ListEntry&) const = default;
};

// A row, `chosen` being the coupler in use.
Picture rowPicture(const LibraryView&, const ListEntry&, bool chosen, bool selected, juce::Point<float> size,
                   const Fonts&);

class CouplerList : public juce::ListBox, private juce::ListBoxModel
{
public:
    CouplerList();
    ~CouplerList() override;

    void show(const LibraryView&, std::vector<ListEntry>, const std::string& chosenCoupler);
    const std::vector<ListEntry>& entries() const { return shown; }
    void select(std::size_t index); // and have it in sight
    std::size_t selected() const { return static_cast<std::size_t>(std::max(0, getSelectedRow())); }

    std::function<void()> onSelect; // the selection moved
    std::function<void()> onTake;   // a double click, or Return in the list

    static constexpr int leastRowHeight = 44;

private:
    int getNumRows() override { return static_cast<int>(shown.size()); }
    void paintListBoxItem(int, juce::Graphics&, int, int, bool) override {}
    juce::Component* refreshComponentForRow(int row, bool selected, juce::Component* before) override;
    void selectedRowsChanged(int lastRow) override;
    void listBoxItemDoubleClicked(int row, const juce::MouseEvent&) override;
    void returnKeyPressed(int) override;
    juce::String getNameForRow(int row) override;

    juce::SharedResourcePointer<Fonts> fonts;
    LibraryView view;
    std::vector<ListEntry> shown;
    std::string chosen;
};

} // namespace couplet
