// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Fitness.h"
#include "Metrology/Repeats.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

constexpr std::size_t enoughForLimits = 5;

// A history of the same take taken in again scatters by round-off alone; below what the 0.01 dB that is shown
// can tell (a rectangle of that width), its scatter says nothing.
constexpr double leastDeviation_dB = 0.01 / (2.0 * std::numbers::sqrt3);

} // namespace

HistoryCheck checkAgainstHistory(double offset_dB, const std::vector<double>& kept_dB)
{
    HistoryCheck check;
    if (kept_dB.empty())
        return check;
    check.change_dB = offset_dB - kept_dB.back();
    if (kept_dB.size() < enoughForLimits) {
        check.withinLimits = std::abs(*check.change_dB) <= check.allowedChange_dB;
        return check;
    }
    const auto history = *repeatsOf(kept_dB);
    const double s_dB = std::max(history.deviation, leastDeviation_dB);
    check.allowedChange_dB = 3.0 * std::numbers::sqrt2 * s_dB; // two references differ by sqrt(2) s
    check.withinLimits = std::abs(offset_dB - history.mean) <= 3.0 * s_dB;
    return check;
}

} // namespace couplet
