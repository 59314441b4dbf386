// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/StretchFinder.h"

#include "Quantities/Decibels.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace couplet {
namespace {

// A hop before a disturbance and three after it are passed over.
constexpr std::size_t hopsBefore = 1;
constexpr int hopsAfter = 3;
constexpr int hopsToBegin = 6;

constexpr double fast_s = 0.125; // IEC 61672-1
constexpr int hopsOfFast = 10;   // until it has forgotten where it began: four time constants

double level(double amplitude)
{
    return decibels(amplitude);
}

} // namespace

StretchFinder::Hop StretchFinder::hopOf(const Estimate& e, double time_s)
{
    Hop h;
    h.time_s = time_s;
    h.amplitude = e.tone.hopAmplitude;
    h.frequency_Hz = e.tone.frequency_Hz;
    // A frequency's variance falls with the cube of the window (Cramer-Rao).
    h.frequencyWeight = std::pow(e.tone.window_s, 3.0);
    h.dc = e.tone.dc;
    h.noise = e.noisePower;
    h.noiseA = e.noisePowerA;
    for (const double harmonic : e.tone.harmonics)
        h.harmonics += harmonic * harmonic;
    h.hum = e.tone.mainsAmplitude * e.tone.mainsAmplitude;
    h.humHz = e.tone.mainsFrequency_Hz;
    h.humBound = e.tone.mainsBound;
    const double second = magnitude(e.secondTone);
    h.second = second * second;
    h.secondPower = e.secondPower;
    h.secondPeak = e.secondPeak;
    h.peak = e.hopPeak;
    h.third = e.tone.third.re;
    h.secondGood = !e.secondBroken;
    h.held = e.tone.held();
    h.restarted = e.tone.restarted;
    h.modulated = e.tone.modulated;
    const bool jumped = e.tone.restarted && !e.tone.unbroken; // else it only wobbles
    h.good = e.tone.held() && !jumped && !e.disturbed && !e.broken && h.amplitude > 0.0;
    return h;
}

// The tone's power under F; after a disturbance it begins with what is there.
void StretchFinder::follow(Hop& hop, const ToneEstimate& tone)
{
    if (!hop.good)
        fast = 0.0;
    const double share = -std::expm1(-hop_s / partsOfHop / fast_s);
    for (std::size_t i = 0; i < hop.fast.size(); ++i) {
        const double power = tone.powers[i];
        fast = fast > 0.0 ? fast + share * (power - fast) : hop.amplitude * hop.amplitude;
        hop.fast[i] = fast;
    }
}

void StretchFinder::add(const Estimate& e)
{
    ++hops;
    hop_s = e.hop_s;
    const std::int64_t clipped = e.clippedSamples - (hops > 1 ? last.clippedSamples : e.hop > 1 ? e.clippedSamples : 0);
    if (clipped > 0) {
        lastClipped_s = static_cast<double>(e.hop - 1) * hop_s;
        firstClipped_s = firstClipped_s.value_or(lastClipped_s);
    }
    last = e;
    watch.add(e);
    take.add(e);
    beginning.add(e);
    dc += e.tone.dc;
    if (hops > hopsToSettle) {
        noise += e.noisePower;
        noiseA += e.noisePowerA;
    }
    hum += e.tone.mainsAmplitude * e.tone.mainsAmplitude;
    const auto reason = static_cast<std::size_t>(e.tone.reason);
    ++reasons[reason];
    examples[reason] = e.tone;

    Hop hop = hopOf(e, static_cast<double>(e.hop) * e.hop_s);
    hop.clipped = clipped;
    follow(hop, e.tone);
    if (!hop.good)
        for (auto h = waiting.rbegin(); h != waiting.rend() && h < waiting.rbegin() + hopsBefore; ++h)
            h->good = false;
    waiting.push_back(hop);
    judgeNewest();
    while (waiting.size() > hopsWaiting) {
        settle(waiting.front());
        waiting.pop_front();
    }
}

void StretchFinder::settle(const Hop& h)
{
    if (!h.good) {
        if (run.hops > 0)
            endRun();
        justFound = justFound || !h.held;
        guard = hadRun ? hopsAfter : 0;
        return;
    }
    if (guard > 0) {
        --guard;
        return;
    }
    hadRun = true;
    if (run.hops == 0) {
        run.start_s = h.time_s - hop_s;
        run.begins = std::exchange(justFound, false);
    }
    ++run.hops;
    run.power += h.amplitude * h.amplitude;
    run.meanFrequency += h.frequency_Hz;
    run.restarts += h.restarted ? 1 : 0;
    run.modulated += h.modulated ? 1 : 0;
    run.frequency += h.frequencyWeight * h.frequency_Hz;
    run.frequencyWeight += h.frequencyWeight;
    run.dc += h.dc;
    run.peak = std::max(run.peak, h.peak);
    run.clipped += h.clipped;
    if (run.hops == hopsToSettle) // what was counted until now held the filters' own ringing
        run.noise = run.noiseA = run.quietHops = 0;
    run.noise += h.noise;
    run.noiseA += h.noiseA;
    ++run.quietHops;
    run.harmonics += h.harmonics;
    run.third += h.third;
    run.hum += h.hum;
    run.humHz += h.humHz;
    run.humBound = std::max(run.humBound, h.humBound / h.amplitude);
    if (h.secondGood) {
        run.secondLowest = run.secondHops == 0 ? h.second : std::min(run.secondLowest, h.second);
        run.secondHighest = std::max(run.secondHighest, h.second);
        run.second += h.second;
        run.secondPower += h.secondPower;
        run.secondPeak = std::max(run.secondPeak, h.secondPeak);
        ++run.secondHops;
    }
    if (run.hops == 1)
        run.origin = level(h.amplitude);
    const double t = h.time_s - run.start_s, y = level(h.amplitude) - run.origin;
    run.t += t;
    run.tt += t * t;
    run.y += y;
    run.ty += t * y;
    run.yy += y * y;
    if (run.hops == hopsOfFast) // what was counted until now still held where it began
        run.levels = 0;
    if (run.hops >= 3)
        addLevels(run, h);
}

void StretchFinder::addLevels(Run& r, const Hop& h)
{
    if (r.levels == 0)
        r.sum = r.squares = 0.0;
    for (const double power : h.fast) {
        const double y = decibelsOfPower(power) - r.origin;
        r.lowest = r.levels == 0 ? y : std::min(r.lowest, y);
        r.highest = r.levels == 0 ? y : std::max(r.highest, y);
        ++r.levels;
        r.sum += y;
        r.squares += y * y;
    }
}

void StretchFinder::endRun()
{
    if (!run.begins || run.hops >= hopsToBegin) // a tone that has just been found may still have to be looked at anew
        ++disturbances;
    if (run.hops > longest.hops)
        longest = run;
    run = {};
}

} // namespace couplet
