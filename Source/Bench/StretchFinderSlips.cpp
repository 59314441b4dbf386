// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/StretchFinder.h"
#include "Quantities/Decibels.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

// What moves a level and does not come back: a slip, and whatever goes farther than a calibrator's level may.
namespace couplet {
namespace {

// A seat that slips moves the level at once, and it then stays where it is: five hops against the five before, with one
// between them, and each five alike. Of no sine, however fast, do the fives lie closer together than by a third of the
// step between them. These figures are this product's own.
constexpr double slip_dB = 0.03;
constexpr double slipSigmas = 6.0;
constexpr double alike = 0.25;

// What moves the level by more than a calibrator may ends a stretch at once, however it goes: under F by twice the
// largest fluctuation that any class permits (0.20 dB, class 1 below 63 Hz) within 0.3 s; three hops against the three
// before by what a level that wobbles within it, at any rate, cannot do.
constexpr std::size_t moveHops = 6;
constexpr double mostMove_dB = 0.43, mostJump_dB = 1.0;

// A tone at another frequency is another tone: twice what class 2 permits off its nominal one, either way.
constexpr double sameFrequency = 0.034;

} // namespace

void StretchFinder::judgeNewest()
{
    const std::size_t size = waiting.size();
    if (stepped())
        waiting[size - 1 - slipHops].good = false;
    if (moved())
        for (std::size_t i = 0; i < moveHops; ++i)
            waiting[size - 1 - i].good = false;
}

// Of one hop's level. Its amplitude scatters by sqrt(2 noise / N); a thousand samples are fewer than any hop above 20 kHz
// has.
double StretchFinder::scatter_dB(const Hop& h)
{
    return dBPerRelative * std::sqrt(2.0 * h.noise / (h.amplitude * h.amplitude) / 1000.0);
}

// The newest five stand together, and so do the five before, but elsewhere.
bool StretchFinder::stepped() const
{
    if (waiting.size() < hopsWaiting)
        return false;
    struct Five
    {
        double sum = 0.0, lowest = 1e9, highest = -1e9;
    } before, after;
    double sigma_dB = 0.0;
    const std::size_t first = waiting.size() - hopsWaiting;
    for (std::size_t i = 0; i < hopsWaiting; ++i) {
        const Hop& h = waiting[first + i];
        if (!h.good)
            return false;
        if (i == slipHops)
            continue;
        Five& five = i < slipHops ? before : after;
        const double y = decibels(h.amplitude);
        five.sum += y;
        five.lowest = std::min(five.lowest, y);
        five.highest = std::max(five.highest, y);
        sigma_dB = std::max(sigma_dB, scatter_dB(h));
    }
    const double step_dB = std::abs(after.sum - before.sum) / slipHops;
    const double spread_dB = std::max(before.highest - before.lowest, after.highest - after.lowest);
    return step_dB > slip_dB + slipSigmas * std::sqrt(2.0 / slipHops) * sigma_dB &&
           spread_dB < alike * step_dB + slipSigmas * sigma_dB;
}

// The level has gone farther than within any class, or to another frequency.
bool StretchFinder::moved() const
{
    const std::size_t size = waiting.size();
    if (size < moveHops + 1 || !waiting[size - 1].good || !waiting[size - 1 - moveHops].good)
        return false;
    const Hop &now = waiting[size - 1], &then = waiting[size - 1 - moveHops];
    double after = 0.0, before = 0.0;
    for (std::size_t i = 0; i < moveHops; ++i) {
        const Hop& h = waiting[size - 1 - i];
        if (!h.good)
            return false;
        (i < moveHops / 2 ? after : before) += 2.0 * decibels(h.amplitude) / moveHops;
    }
    const double sigma_dB = scatter_dB(now);
    return std::abs(decibelsOfPower(now.fast.back() / then.fast.back())) > mostMove_dB + slipSigmas * sigma_dB ||
           std::abs(after - before) > mostJump_dB + slipSigmas * sigma_dB ||
           std::abs(now.frequency_Hz - then.frequency_Hz) > sameFrequency * then.frequency_Hz;
}

} // namespace couplet
