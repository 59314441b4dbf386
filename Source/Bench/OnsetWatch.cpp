// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/OnsetWatch.h"

#include "Quantities/Decibels.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <utility>

namespace couplet {
namespace {

constexpr double rise_dB = 20.0, least_dB = 1.0, still_dB = 0.1;
constexpr std::size_t stays = 20, longest = 220, top = 4; // hops: 1 s, 11 s, 0.2 s
constexpr double settledShare = 0.1, halfWayShare = 0.7;
constexpr double nothing = 1e-20;

} // namespace

void OnsetWatch::add(const Estimate& e)
{
    hop_s = e.hop_s;
    const double before = std::exchange(energy, e.levels[0].energy);
    if (before < 0.0 || energy < before) { // the first, or the levels began anew
        before_dB = beforeThat_dB = 1000.0;
        return;
    }
    const double level_dB = decibelsOfPower(2.0 * (energy - before) / hop_s + nothing);
    if (level_dB > beforeThat_dB + rise_dB && (levels_dB.empty() || levels_dB.size() > top)) {
        levels_dB.clear();
        found.reset();
        levels_dB.push_back(level_dB);
    }
    else if (!levels_dB.empty() && levels_dB.size() < longest) {
        levels_dB.push_back(level_dB);
        judge();
    }
    beforeThat_dB = std::exchange(before_dB, level_dB);
}

void OnsetWatch::judge()
{
    const std::size_t n = levels_dB.size();
    if (found || n < stays + top)
        return;
    const auto tail = levels_dB.end() - static_cast<std::ptrdiff_t>(stays);
    const auto [low, high] = std::minmax_element(tail, levels_dB.end());
    if (*high - *low > still_dB)
        return;
    const double settled_dB = 0.5 * (*low + *high);
    const auto peak = std::max_element(levels_dB.begin(), levels_dB.begin() + static_cast<std::ptrdiff_t>(top));
    const double over_dB = *peak - settled_dB;
    if (over_dB < least_dB)
        return;
    auto end = peak; // one after the last that is above what stays
    for (auto l = peak; l != levels_dB.end(); ++l)
        if (*l > settled_dB + std::max(still_dB, settledShare * over_dB))
            end = l + 1;
    const auto hops = end - peak;
    const bool isEven = std::adjacent_find(peak, end, [](double a, double b) { return b > a + still_dB; }) == end;
    if (hops < 2 || !isEven || *(peak + hops / 2) > settled_dB + halfWayShare * over_dB)
        return;
    found = Onset{over_dB, static_cast<double>(end - levels_dB.begin()) * hop_s};
}

std::string onsetSentence(const Onset& o)
{
    return fmt::format("the level overshot by {:.1f} dB at its onset and settled within {:.1f} s: is a compressor, a "
                       "limiter or an automatic gain in the chain? Take it out, or switch it off",
                       o.overshoot_dB, o.settled_s);
}

} // namespace couplet
