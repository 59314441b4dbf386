// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceHistory.h"
#include "Screens/Canvas.h"
#include "Screens/Measures.h"

#include <functional>
#include <optional>

// Purpose: every reference of a coupler, the newest first, one row each. Only rows in sight are drawn.
// Thread:  message.
namespace couplet {

// Columns stand in a row as in the head above it.
Picture historyHead(juce::Point<float> size, const Measures&, const Fonts&);
Picture historyRow(const HistoryPoint&, bool selected, juce::Point<float> size, const Measures&, const Fonts&);

class HistoryTable : public juce::ListBox, private juce::ListBoxModel
{
public:
    HistoryTable();
    ~HistoryTable() override;

    void show(const ReferenceHistory&, std::optional<std::size_t> chosen, const Measures&);
    std::function<void(std::size_t)> onSelect; // by its place in the history
    std::function<void()> onDelete;            // the key

private:
    int getNumRows() override { return static_cast<int>(points.size()); }
    void paintListBoxItem(int, juce::Graphics&, int, int, bool) override {}
    juce::Component* refreshComponentForRow(int row, bool isSelected, juce::Component* before) override;
    void selectedRowsChanged(int lastRow) override;
    void deleteKeyPressed(int) override;
    juce::String getNameForRow(int row) override;
    std::size_t indexOf(int row) const { return points.size() - 1 - static_cast<std::size_t>(row); }

    juce::SharedResourcePointer<Fonts> fonts;
    Measures measures;
    std::vector<HistoryPoint> points;
};

} // namespace couplet
