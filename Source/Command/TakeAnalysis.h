// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ToneSummary.h"
#include "Quantities/Outcome.h"
#include "Signal/Estimate.h"

#include <array>
#include <optional>
#include <string>

// Purpose: a take's file through the same analysis as the plugin's live channel.
// Shapes:  channels counted from 1. Memory does not grow with the take.
// Thread:  any but audio.
namespace couplet {

struct TakeAnalysis
{
    ToneSummary tone;
    std::array<BroadbandLevels, weightings> levels; // over the whole take
    double duration_s = 0.0;                        // to the last whole chunk of 32 samples
    double sampleRate_Hz = 0.0;
};

Outcome<TakeAnalysis> analyseTake(const std::string& path, int channel, std::optional<int> secondChannel = {});

} // namespace couplet
