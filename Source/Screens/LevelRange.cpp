// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/LevelRange.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double air_dB = 3.0;      // between the curve and the edges of a new range
constexpr double closely_dB = 50.0; // curves of a smaller span have steps of 10 dB
constexpr double widest_dB = 160.0; // more than any converter's
constexpr double emptySteps = 2.0;  // that stay without a new range

LevelRange fitted(double lowest_dB, double highest_dB)
{
    LevelRange range;
    range.step_dB = highest_dB - lowest_dB <= closely_dB ? 10.0 : 20.0;
    range.low_dB = std::floor((lowest_dB - air_dB) / range.step_dB) * range.step_dB;
    range.high_dB = std::ceil((highest_dB + air_dB) / range.step_dB) * range.step_dB;
    return range;
}

} // namespace

LevelRange rangeFollowing(const std::optional<LevelRange>& shown, double lowest_dB, double highest_dB)
{
    lowest_dB = std::max(lowest_dB, highest_dB - widest_dB + 2.0 * (20.0 + air_dB));
    if (!shown)
        return fitted(lowest_dB, highest_dB);
    const double below = lowest_dB - shown->low_dB, above = shown->high_dB - highest_dB;
    const double most = emptySteps * shown->step_dB + air_dB;
    return below >= 0.0 && above >= 0.0 && below <= most && above <= most ? *shown : fitted(lowest_dB, highest_dB);
}

} // namespace couplet
