// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/FitPage.h"
#include "Screens/MainView.h"

#include <functional>
#include <string>
#include <vector>

// Purpose: views of every state that the Fit page has to show. Results, words and answers are the engine's own, of the
//          readings of the sketch's bench and of changes to these.
namespace couplet {

struct NamedFit
{
    std::string name;
    FitView view;
    std::function<void(FitPage&)> prepare = [](FitPage&) {}; // what is opened on the page
};

FitInput sketchedReadings();
FitView sketchedFit();                             // the sketch's readings; earphone S is kept aside
FitView fitOf(FitInput, const FitView& from = {}); // its result, words and whether it may be used
FitView insertedFit();                             // earphones opened to their insertions
FitView manyFit(std::size_t fittings, std::size_t earphones, std::size_t readings);

const std::vector<NamedFit>& fitStates();
const NamedFit& fitNamed(const std::string&);

// The page as it is opened in a window.
void show(MainView&, FitControls&, const NamedFit&);
FitPage& fitPageOf(MainView&);

} // namespace couplet
