// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"

#include <string>
#include <vector>

// Purpose: views of every state that a screen has to show. The numbers are worked out by the Bench from the sketch's
//          tone, reference, rating and drive; none is written by hand.
namespace couplet {

struct NamedView
{
    std::string name;
    LiveView view;
};

LiveView agreeing(); // -28.05 dBFS through an offset of 121.97 dB: 93.97 against 93.86 dB SPL
std::vector<NamedView> allStates();
LiveView stateNamed(const std::string&);

} // namespace couplet
