// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/BroadbandMeter.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double fast_s = 0.125, slow_s = 1.0;
// Averages start from nothing; after five time constants 0.03 dB is missing, and a minimum means something.
constexpr double settledAfter = 5.0;
constexpr double lowestZ_Hz = 1.0;

} // namespace

BroadbandMeter::BroadbandMeter(double sampleRate_Hz)
    : chunkSeconds(chunkLength / sampleRate_Hz), keepFast(std::exp(-chunkSeconds / fast_s)),
      keepSlow(std::exp(-chunkSeconds / slow_s)), highPass(1.0 - std::exp(-2.0 * pi * lowestZ_Hz / sampleRate_Hz)),
      peakC(sampleRate_Hz)
{
    const WeightingDesign design = designWeighting(sampleRate_Hz);
    low.c = design.lowPair;
    high.c = design.highPair;
    middle.c = design.middlePair;
}

void BroadbandMeter::reset()
{
    low.reset();
    high.reset();
    middle.reset();
    drift = total = squares = 0.0;
    peakC.reset();
    chunks = 0;
    results = {};
}

void BroadbandMeter::add(const float* chunk)
{
    std::array<double, weightings> sums{};
    double peakA = 0.0, peakZ = 0.0;
    std::array<float, chunkLength> weightedC;
    Biquad l = low, h = high, m = middle; // in registers for the loop
    double below = drift;
    for (int i = 0; i < chunkLength; ++i) {
        const double x = chunk[i];
        const double c = h(l(x));
        const double a = m(c);
        below += highPass * (x - below);
        const double z = x - below;
        weightedC[static_cast<std::size_t>(i)] = static_cast<float>(c);
        sums[0] += a * a;
        sums[1] += c * c;
        sums[2] += z * z;
        peakA = std::max(peakA, std::abs(a));
        peakZ = std::max(peakZ, std::abs(z));
    }
    low = l;
    high = h;
    middle = m;
    drift = std::abs(below) < 1e-30 ? 0.0 : below;
    low.settle();
    high.settle();
    middle.settle();

    ++chunks;
    for (std::size_t w = 0; w < weightings; ++w)
        average(w, sums[w] / chunkLength);
    energyOfZ(chunk);
    results[0].peak = std::max(results[0].peak, peakA);
    results[1].peak = std::max(results[1].peak, static_cast<double>(peakC(weightedC.data())));
    results[2].peak = std::max(results[2].peak, peakZ);
}

// Z is flat: all that is not the converter's constant counts, however slow it is.
void BroadbandMeter::energyOfZ(const float* chunk)
{
    double sum = 0.0, sumOfSquares = 0.0;
    for (int i = 0; i < chunkLength; ++i) {
        const double x = chunk[i];
        sum += x;
        sumOfSquares += x * x;
    }
    total += sum;
    squares += sumOfSquares;
    const double n = static_cast<double>(chunks) * chunkLength;
    results[2].energy = std::max(0.0, squares - total * total / n) * chunkSeconds / chunkLength;
}

void BroadbandMeter::average(std::size_t weighting, double meanSquare)
{
    BroadbandLevels& r = results[weighting];
    r.energy += meanSquare * chunkSeconds;
    r.fast = meanSquare + keepFast * (r.fast - meanSquare);
    r.slow = meanSquare + keepSlow * (r.slow - meanSquare);
    r.fastMax = std::max(r.fastMax, r.fast);
    r.slowMax = std::max(r.slowMax, r.slow);
    const double now = duration_s();
    if (now >= settledAfter * fast_s)
        r.fastMin = std::min(r.fastMin.value_or(r.fast), r.fast);
    if (now >= settledAfter * slow_s)
        r.slowMin = std::min(r.slowMin.value_or(r.slow), r.slow);
}

} // namespace couplet
