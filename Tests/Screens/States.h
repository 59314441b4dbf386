// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/MainView.h"

#include <string>
#include <vector>

// Purpose: views of every state that a screen has to show. The numbers are worked out by the Bench from the sketch's
//          tone, reference, rating and drive; none is written by hand.
namespace couplet {

struct NamedView
{
    std::string name;
    LiveView view;
    int opened = 0; // of the Read page's lower views, as MainView::openView counts them
};

void show(MainView&, const NamedView&);

LiveView agreeing(); // -28.05 dBFS through an offset of 121.97 dB: 93.97 against 93.86 dB SPL
std::vector<NamedView> allStates();
LiveView stateNamed(const std::string&);  // one of those without a spectrum
NamedView wholeState(const std::string&); // any

} // namespace couplet
