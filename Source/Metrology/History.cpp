// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/ControlChart.h"
#include "Metrology/Fitness.h"
#include "Metrology/Repeats.h"

#include <cmath>
#include <numbers>

namespace couplet {

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
    check.allowedChange_dB = 3.0 * std::numbers::sqrt2 * s_dB; // two references differ by sqrt(2) s
    check.withinLimits = std::abs(offset_dB - history.mean) <= 3.0 * s_dB;
    return check;
}

} // namespace couplet
