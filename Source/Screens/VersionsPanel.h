// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"

#include <functional>
#include <optional>

// Purpose: what a coupler was before its changes, the newest first, one row each: what was changed, and when. Only rows
//          in sight are drawn.
// Keys:    up and down go through the list, Return puts back, escape leaves.
// Thread:  message.
namespace couplet {

Picture versionRow(const VersionsView::Row&, bool selected, juce::Point<float> size, const Fonts&);

class VersionsPanel : public juce::Component, private juce::ListBoxModel
{
public:
    VersionsPanel();
    ~VersionsPanel() override;

    // Absent: they are being read.
    void show(const std::optional<VersionsView>&);
    void take(); // as Return does

    std::function<void(int number)> onPutBack;
    std::function<void()> onClose;

    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;
    void focusGained(FocusChangeType) override;

private:
    int getNumRows() override { return shown ? static_cast<int>(shown->rows.size()) : 0; }
    void paintListBoxItem(int, juce::Graphics&, int, int, bool) override {}
    juce::Component* refreshComponentForRow(int row, bool selected, juce::Component* before) override;
    void listBoxItemDoubleClicked(int, const juce::MouseEvent&) override { take(); }
    void returnKeyPressed(int) override { take(); }
    juce::String getNameForRow(int row) override;
    std::string words() const;

    juce::SharedResourcePointer<Fonts> fonts;
    std::optional<VersionsView> shown;
    Canvas canvas;
    juce::ListBox list{"versions", nullptr};
    Chip putBack{Chip::Kind::solid, "put back", 13.0f}, leave{Chip::Kind::link, "leave", 13.0f};
};

} // namespace couplet
