// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Screens/Theme.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: one side of the Read page, measured or expected, as texts: a number with its uncertainty and unit, the
//          addends it is the sum of, and what is missing. Where there is no number there are words and a reason.
// Thread:  any but audio.
namespace couplet {

struct SumRow
{
    std::string name, value;
};

struct SumContent
{
    std::string heading;
    juce::Colour colour;
    std::vector<std::string> tags; // "simulated", "held", "clipped", "unsteady"
    std::string number;            // empty: there is none, and `words` stand in its place
    std::string uncertainty, unit;
    std::string words, reason;
    std::vector<SumRow> addends;
    SumRow total; // of more than one addend
    std::vector<std::string> notes;
};

SumContent measuredContent(const LiveView&);
SumContent expectedContent(const LiveView&);

// An earphone's tone is called unsteady beyond this, as the reading's notes have it (method of this product).
inline constexpr double steadyWithin_dB = 0.05;
bool isUnsteady(const ToneSummary&);

} // namespace couplet
