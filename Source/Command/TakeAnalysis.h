// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ToneSummary.h"
#include "Quantities/Outcome.h"
#include "Signal/Estimate.h"

#include <optional>
#include <string>

// Purpose: a take's file through the same analysis as the plugin's live channel.
// Shapes:  channels counted from 1. Memory does not grow with the take.
// Thread:  any but audio.
namespace couplet {

struct TakeAnalysis
{
    ToneSummary tone;
    Estimate last; // for the levels, which add up over the take
};

Outcome<TakeAnalysis> analyseTake(const std::string& path, int channel, std::optional<int> secondChannel = {});

} // namespace couplet
