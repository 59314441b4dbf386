// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

// Purpose: opens a list of choices beside what was pressed, inside the window: hosts do not all let a plugin open
//          windows of its own.
// Thread:  message.
namespace couplet {

// `chosen` hears the id of what was taken; nothing when the list was left or `beside` is gone by then.
void openList(juce::PopupMenu, juce::Component& beside, const std::function<void(int id)>& chosen);

} // namespace couplet
