// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ToneSummary.h"

#include <vector>

// Purpose: several seatings of one calibrator as one tone: the mean of their levels, the worst of their other figures.
// Units:   as ToneSummary.
// Thread:  any but audio.
namespace couplet {

// At least one, each with a level.
ToneSummary together(const std::vector<ToneSummary>& seatings);

} // namespace couplet
