// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceHistory.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/TextField.h"

#include <functional>

// Purpose: sets the selected reference aside with a reason that is typed, or puts it back. Nothing is ever deleted.
// Keys:    in the line for the reason Return sets aside and escape leaves.
// Thread:  message.
namespace couplet {

class AsideBar : public juce::Component
{
public:
    AsideBar();

    // Null: none is selected. While a capture runs nothing is allowed.
    void show(const HistoryPoint* selected, bool allowed, float textSize);
    void start(); // asks for the reason, or puts back what was set aside
    void take();  // as Return does
    void leave(); // as escape does
    bool edits() const { return reason.isVisible(); }
    float wantedWidth() const { return act.wantedWidth(); }

    std::function<void(const std::string& reason)> onAside;
    std::function<void()> onBack;
    std::function<void()> onEditing; // it began or ended, and needs all the room or none
    TextField reason{"Reason for setting the reference aside", 12.0f};

    void resized() override;

private:
    bool isAside = false, isAllowed = false;
    std::string of; // when the selected one was taken
    Chip act{Chip::Kind::link, "set one aside"}, yes{Chip::Kind::solid, "set aside"}, no{Chip::Kind::link, "leave"};
};

} // namespace couplet
