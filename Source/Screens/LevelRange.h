// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

// Purpose: from which level to which a plot reaches. A plot that is drawn again and again keeps its range until the
//          curve leaves it, or until more than two steps of it stand empty: the scale does not jump about.
// Units:   dB; low and high are whole multiples of the step, which is 10 or 20.
// Ranges:  spans 160 dB at most; what is lower still lies below the plot.
// Thread:  any.
namespace couplet {

struct LevelRange
{
    double low_dB = 0.0, high_dB = 100.0, step_dB = 20.0;
    bool operator==(const LevelRange&) const = default;
};

// For a curve between those levels, and the range it was shown in so far.
LevelRange rangeFollowing(const std::optional<LevelRange>& shown, double lowest_dB, double highest_dB);

} // namespace couplet
