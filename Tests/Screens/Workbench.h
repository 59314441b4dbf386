// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Setup.h"
#include "Bench/ToneSummary.h"
#include "Plugin/LiveView.h"

// Purpose: the sketch's bench: what is on it and what is heard, to be changed by a state before it is made a view.
namespace couplet {

struct Workbench
{
    ToneSummary tone;
    Setup setup;

    // The view of this bench, two hours after its reference, its trend wandering about the tone as a real one does.
    LiveView view() const;
};

Workbench sketchedBench();
ToneSummary calibratorTone();
ToneSummary silence(const std::string& why);
std::deque<TrendPoint> wanderingTrend(double level_dB);

} // namespace couplet
