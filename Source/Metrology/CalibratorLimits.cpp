// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Fitness.h"

namespace couplet {
namespace {

// The limits exclude the measurement's uncertainty, which may be as large as the second figure (k = 2).
// One row of IEC 60942:2017 Tables 2, 4 and 7 taken together, for nominal frequencies up to `highest_Hz`. The
// bands 63 to 160 Hz and 160 to 1250 Hz meet at 160 Hz, which belongs to the upper one.
struct Band
{
    double highest_Hz;
    bool holdsHighest;
    CalibratorLimits limits; // level, its largest U, fluctuation, frequency %, distortion %
};

constexpr double lowest_Hz = 31.5;
constexpr Band class1[] = {
    {63.0, true, {0.30, 0.20, 0.20, 0.7, 3.0}},   {160.0, false, {0.30, 0.20, 0.10, 0.7, 3.0}},
    {1250.0, true, {0.25, 0.15, 0.07, 0.7, 2.5}}, {4000.0, true, {0.35, 0.25, 0.07, 0.7, 3.0}},
    {8000.0, true, {0.45, 0.35, 0.07, 0.7, 3.0}}, {16000.0, true, {0.50, 0.50, 0.07, 0.7, 3.0}},
};

constexpr double class2Lowest_Hz = 160.0, class2Highest_Hz = 1250.0;
constexpr CalibratorLimits class2{0.40, 0.35, 0.15, 1.7, 3.0};

} // namespace

std::optional<CalibratorLimits> calibratorLimits(std::optional<int> calibratorClass, Hertz nominal)
{
    const double f = nominal.value;
    if (calibratorClass.value_or(2) != 1) {
        if (f >= class2Lowest_Hz && f <= class2Highest_Hz)
            return class2;
        return std::nullopt;
    }
    if (!(f >= lowest_Hz))
        return std::nullopt;
    for (const auto& band : class1)
        if (f < band.highest_Hz || (band.holdsHighest && f == band.highest_Hz))
            return band.limits;
    return std::nullopt;
}

} // namespace couplet
