// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/ControlChart.h"
#include "Metrology/Expanded.h"
#include "Metrology/Fitness.h"
#include "Metrology/Repeats.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

// Of a normal distribution within 3 sigma. From few references s is known badly: Student's t for it, and the mean has its
// own scatter (prediction interval, common in textbooks; from memory).
constexpr double threeSigmas = 0.9973002;

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
    const double s_dB = deviationForLimits_dB(history.deviation);
    const auto n = static_cast<double>(kept_dB.size());
    const double factor = studentQuantile(threeSigmas, n - 1.0);
    // Two references differ by sqrt(2) s. No more is allowed than before there were five, but where they scatter so.
    check.allowedChange_dB = std::min(factor * std::numbers::sqrt2 * s_dB,
                                      std::max(check.allowedChange_dB, 3.0 * std::numbers::sqrt2 * s_dB));
    check.withinLimits = std::abs(offset_dB - history.mean) <= factor * s_dB * std::sqrt(1.0 + 1.0 / n);
    return check;
}

} // namespace couplet
