// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/BroadbandMeter.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double fast_s = 0.125, slow_s = 1.0;
// Averages start from nothing; after five time constants 0.03 dB is missing, and a minimum means something.
constexpr double settledAfter = 5.0;
// Of an average, -300 dB: in digital silence it would fall for ever, be shown, and become slow in the end.
constexpr double nothing = 1e-30;

} // namespace

BroadbandMeter::BroadbandMeter(double sampleRate_Hz)
    : chunkSeconds(chunkLength / sampleRate_Hz), keepFast(std::exp(-chunkSeconds / fast_s)),
      keepSlow(std::exp(-chunkSeconds / slow_s)), peakC(sampleRate_Hz)
{
}

void BroadbandMeter::reset()
{
    allTotal = allSquares = 0.0;
    peakC.reset();
    chunks = heard = 0;
    results = {};
}

void BroadbandMeter::restartCounts()
{
    allTotal = allSquares = 0.0;
    chunks = 0;
    for (BroadbandLevels& r : results) {
        BroadbandLevels anew;
        anew.fast = r.fast;
        anew.slow = r.slow;
        r = anew;
    }
}

void BroadbandMeter::add(const WeightedChunk& w, double total, double power)
{
    ++chunks;
    ++heard;
    average(0, w.squaresA / chunkLength);
    average(1, w.squaresC / chunkLength);
    average(2, w.squaresZ / chunkLength);
    // Z is flat: all that is not the converter's constant counts into its energy, however slow it is.
    allTotal += total;
    allSquares += power;
    const double n = static_cast<double>(chunks) * chunkLength;
    results[2].energy = std::max(0.0, allSquares - allTotal * allTotal / n) * chunkSeconds / chunkLength;

    results[0].peak = std::max(results[0].peak, w.peakA);
    results[1].peak = std::max(results[1].peak, static_cast<double>(peakC(w.c.data())));
    results[2].peak = std::max(results[2].peak, w.peakZ);
}

void BroadbandMeter::average(std::size_t weighting, double meanSquare)
{
    BroadbandLevels& r = results[weighting];
    r.energy += meanSquare * chunkSeconds;
    r.fast = meanSquare + keepFast * (r.fast - meanSquare);
    r.slow = meanSquare + keepSlow * (r.slow - meanSquare);
    if (r.fast < nothing)
        r.fast = 0.0;
    if (r.slow < nothing)
        r.slow = 0.0;
    r.fastMax = std::max(r.fastMax, r.fast);
    r.slowMax = std::max(r.slowMax, r.slow);
    const double now = static_cast<double>(heard) * chunkSeconds;
    if (now >= settledAfter * fast_s)
        r.fastMin = std::min(r.fastMin.value_or(r.fast), r.fast);
    if (now >= settledAfter * slow_s)
        r.slowMin = std::min(r.slowMin.value_or(r.slow), r.slow);
}

} // namespace couplet
