// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"

#include <string>
#include <vector>

// Purpose: the checks on the tone as texts.
// Thread:  any but audio.
namespace couplet {

struct ToneCheck
{
    std::string label, shortLabel;
    std::string widest; // of the usual values: its room is kept, so that nothing wanders with the digits
    std::string value;
    bool amiss = false;
    bool elsewhere = false; // stands in the sum as well: goes first where room is short
};

// Without a tone: noise and headroom alone, the others as a dash.
std::vector<ToneCheck> toneChecks(const LiveView&);

} // namespace couplet
