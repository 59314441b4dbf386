// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/TakeWatch.h"

#include <algorithm>
#include <cmath>

// A contact that is right now and then: short pieces that come back to one and the same higher level.
namespace couplet {
namespace {

// What a voice or a knock that is no disturbance (NoiseMeter) may do to a hop is less; what is more is not clean.
constexpr double clearlyAbove_dB = 0.15;
constexpr double oneValue_dB = 0.03;
// The level that was used is the other value: so much of the tone stands there, nearer than this share of the way up. A
// wobble passes by, and stands nowhere.
constexpr double mostOfTone = 0.7, nearness = 0.15, nearest_dB = 0.05;
constexpr int fewestPieces = 3, fewestPiecesOfSome = 2, hopsOfSome = 4;

} // namespace

TakeWatch::Recurring TakeWatch::recurring(const UsedStretch& used) const
{
    double highest_dB = used.level_dBFS + clearlyAbove_dB;
    bool any = false;
    for (const Piece& p : pieces)
        if (isThis(p, used) && p.level_dB > highest_dB) {
            highest_dB = p.level_dB;
            any = true;
        }
    if (!any)
        return {};
    const double up_dB = highest_dB - used.level_dBFS;
    Recurring found;
    int tone = 0, atUsed = 0;
    bool stands = false;
    for (const Piece& p : pieces) {
        const bool isAbove = isThis(p, used) && p.level_dB >= highest_dB - oneValue_dB;
        if (isAbove) {
            found.hops += p.hops;
            found.times += stands ? 0 : 1;
            found.up_dB += p.hops * (p.level_dB - used.level_dBFS);
        }
        stands = isAbove;
        if (!isThis(p, used))
            continue;
        tone += p.hops;
        if (std::abs(p.level_dB - used.level_dBFS) <= std::max(nearest_dB, nearness * up_dB))
            atUsed += p.hops;
    }
    const bool comesBack =
        found.times >= fewestPieces || (found.times >= fewestPiecesOfSome && found.hops >= hopsOfSome);
    if (!comesBack || atUsed < mostOfTone * tone)
        return {};
    found.up_dB /= found.hops;
    found.share = static_cast<double>(found.hops) / tone;
    return found;
}

} // namespace couplet
