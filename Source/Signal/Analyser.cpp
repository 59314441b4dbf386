// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Analyser.h"

#include "Signal/Sound.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr int fewestInRun = 3;

// The weightings' high-pass filters have forgotten a constant after that; the constant is told with a Hann window over it,
// so that a tone of 20 Hz moves it by less than a hundredth.
constexpr double settling_s = 0.25;

} // namespace

Analyser::Analyser(double sampleRate_Hz, double window_s)
    : tracker(sampleRate_Hz, window_s), filters(sampleRate_Hz), broadband(sampleRate_Hz), dropOuts(sampleRate_Hz),
      chunksToSettle(static_cast<int>(std::lround(settling_s * sampleRate_Hz / chunkLength)))
{
    gathered.sampleRate_Hz = sampleRate_Hz;
    gathered.hop_s = tracker.hopSamples() / sampleRate_Hz;
    estimate = waiting = gathered;
}

void Analyser::restart()
{
    Estimate fresh;
    fresh.sampleRate_Hz = gathered.sampleRate_Hz;
    fresh.hop_s = gathered.hop_s;
    gathered = waiting = estimate = fresh;
    tracker.restart();
    filters.reset();
    noise.reset();
    broadband.reset();
    dropOuts.reset();
    filled = run = settled = 0;
    runLevel = 0.0f;
    constantSum = constantWeight = 0.0;
    secondSum = {};
    secondTotal = secondSquares = secondPeak = 0.0;
}

// How many samples were none.
std::int64_t Analyser::makeSound(std::array<float, chunkLength>& chunk)
{
    if (std::all_of(chunk.begin(), chunk.end(), isSound))
        return 0;
    const auto broken = std::count_if(chunk.begin(), chunk.end(), [](float x) { return !isSound(x); });
    chunk.fill(0.0f);
    return broken;
}

void Analyser::expectConstant(double constant)
{
    filters.expectConstant(constant);
    settled = chunksToSettle;
}

// A run of samples that stay at full scale is clipped; one or two may be a peak that just reaches it. What goes beyond was
// never a converter's.
void Analyser::countPeaks()
{
    lowest = highest = first[0];
    for (const float x : first) {
        lowest = std::min(lowest, x);
        highest = std::max(highest, x);
    }
    const float largest = std::max(highest, -lowest);
    gathered.hopPeak = std::max(gathered.hopPeak, static_cast<double>(largest));
    if (largest < converterFullScale) {
        run = 0;
        return;
    }
    for (const float x : first) {
        const float size = std::abs(x);
        const bool atFullScale = size >= converterFullScale && size <= 1.0f;
        const bool goesOn = atFullScale && (run == 0 || (x > 0.0f) == (runLevel > 0.0f));
        run = goesOn ? std::min(run, fewestInRun) + 1 : atFullScale ? 1 : 0;
        runLevel = x;
        if (run == fewestInRun)
            gathered.clippedSamples += fewestInRun;
        else if (run > fewestInRun)
            ++gathered.clippedSamples;
    }
}

bool Analyser::chunkDone()
{
    const std::int64_t broken = makeSound(first), brokenSecond = makeSound(other);
    const bool sound = broken == 0;
    gathered.brokenSamples += broken;
    gathered.brokenSecondSamples += brokenSecond;
    gathered.broken = gathered.broken || !sound;
    gathered.secondBroken = gathered.secondBroken || brokenSecond > 0;
    countPeaks();
    if (sound)
        dropOuts.add(first, lowest, highest);
    else
        dropOuts.breakOff();

    const FoldedChunk folds = folded(first.data());
    const double total = folds.total(), power = folds.power();
    FoldedChunk left = folds;
    tracker.subtractLines(left);
    weigh(left, total, power);
    if (hasSecond)
        addSecond();
    bool ready = tracker.add(first.data(), folds, total, power);
    if (tracker.hopEnded())
        endHop();
    if (waiting.broken && tracker.isPending()) { // no use in looking into it
        tracker.abandon();
        ready = true;
    }
    if (ready)
        complete();
    return ready;
}

void Analyser::weigh(const FoldedChunk& left, double total, double power)
{
    const WeightedChunk weighted = filters(first.data(), unfolded(left));
    noise.add(weighted);
    if (settled >= chunksToSettle) {
        broadband.add(weighted, total, power);
        return;
    }
    broadband.passBy(weighted);
    const double weight = 1.0 - std::cos(2.0 * pi * (settled + 0.5) / chunksToSettle);
    constantSum += weight * total;
    constantWeight += weight * chunkLength;
    if (++settled == chunksToSettle)
        filters.forgetStep(constantSum / constantWeight, static_cast<double>(settled) * chunkLength);
}

void Analyser::addSecond()
{
    const FoldedChunk folds = folded(other.data());
    secondSum += tracker.toneSum(folds);
    secondTotal += folds.total();
    secondSquares += folds.power();
    for (const float x : other)
        secondPeak = std::max(secondPeak, static_cast<double>(std::abs(x)));
}

void Analyser::endHop()
{
    const double tone = tracker.estimate().amplitude;
    noise.endHop(0.5 * tone * tone, tracker.wobbleLeft());
    dropOuts.hear(tone, tracker.estimate().frequency_Hz, tracker.estimate().dc);
    ++gathered.hop;
    gathered.noisePower = noise.power();
    gathered.noisePowerA = noise.powerA();
    gathered.disturbed = noise.disturbed();
    gathered.dropOuts = dropOuts.count();
    gathered.dropOutSamples = dropOuts.samples();
    gathered.cutPeaks = dropOuts.cutPeaks();
    gathered.secondTone = tracker.toneOf(secondSum);
    gathered.peak = std::max(gathered.peak, gathered.hopPeak);
    gathered.levels = broadband.levels();
    gathered.duration_s = broadband.duration_s();
    const double samples = tracker.hopSamples(), mean = secondTotal / samples;
    gathered.secondPower = std::max(0.0, secondSquares / samples - mean * mean);
    gathered.secondPeak = secondPeak;
    waiting = gathered;
    secondSum = {};
    secondTotal = secondSquares = secondPeak = 0.0;
    gathered.hopPeak = 0.0;
    gathered.broken = gathered.secondBroken = false;
}

void Analyser::complete()
{
    waiting.tone = tracker.estimate();
    estimate = waiting;
    if (estimate.broken)
        tracker.breakOff(); // what the hop says is kept from being carried on
}

} // namespace couplet
