// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Linearity.h"

#include "Metrology/Expanded.h"
#include "Metrology/JudgedTerms.h"
#include "Quantities/Decibels.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double allowedDeviation_dB = 0.10;
constexpr double grossShare = 0.05;
constexpr double mostThird = 0.3; // beyond, nothing is left of the fundamental
constexpr double roundOff = 1e-9; // what decimal figures lose in binary must not decide

} // namespace

Check stepCheck(const LevelStep& step)
{
    Check check;
    check.name = fmt::format("step to {:g} dB, {:.2f}", step.to_dB, step.certified_dB);
    check.value = step.measured_dB;
    check.limit = allowedDeviation_dB;
    check.unit = "dB";
    const double off_dB = step.measured_dB - step.certified_dB;
    check.passes = std::abs(off_dB) <= allowedDeviation_dB + roundOff;
    if (!check.passes)
        check.reason = fmt::format("the step between the calibrator's levels reads {:.2f} dB and is certified as "
                                   "{:.2f} dB: is the input limited, its gain switched in between, or the lower level "
                                   "near the noise?",
                                   step.measured_dB, step.certified_dB);
    return check;
}

bool isGrossMiss(const LevelStep& step)
{
    return std::abs(step.measured_dB - step.certified_dB) > grossShare * step.certified_dB + roundOff;
}

BudgetTerm linearityTerm(const LevelStep& step)
{
    return fromLimits("linearity", std::hypot(step.measured_dB - step.certified_dB, 2.0 * step.u_dB),
                      fmt::format("step {:.2f} dB, certified {:.2f}", step.measured_dB, step.certified_dB));
}

double shiftBehindThird_dB(double third)
{
    return -decibels(1.0 - 3.0 * std::min(std::abs(third), mostThird));
}

BudgetTerm linearityUnchecked(double third)
{
    const auto heard = fromLimits("linearity", shiftBehindThird_dB(third),
                                  fmt::format("assumed: a third harmonic of {:.2g} %", 100.0 * std::abs(third)));
    return heard.u_dB > assumedLinearity_dB ? heard : assumedTerm("linearity", assumedLinearity_dB);
}

} // namespace couplet
