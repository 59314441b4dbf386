// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/StretchFinder.h"
#include "Metrology/Fitness.h"
#include "Quantities/Decibels.h"
#include "Signal/Analyser.h"
#include "Simulation/Random.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <vector>

// Purpose: a calibrator's tone whose level and speed wobble, with its truth: written from the physics (an amplitude and a
//          phase that run on), not from how the tone is followed. Fluctuation after IEC 60942:2017 and IEC 61672-1: the
//          squared envelope through an exponential average of 125 ms, the larger deviation of its level from its mean.
// Units:   dB, Hz, s; shares of the frequency or of the amplitude.
namespace couplet::tests {

struct Wobble
{
    double sampleRate_Hz = 48000.0, nominal_Hz = 1000.0, frequency_Hz = 1000.04, seconds = 12.0;
    double depth_dB = 0.0, rate_Hz = 1.0;    // of the level
    double speed = 0.0, speedRate_Hz = 1.0;  // of the frequency, its share
    double motor = 0.0, motorWidth_Hz = 5.0; // RMS of the speed's noise, its share; up to where it reaches
    double harmonics = 0.0;                  // second and third, each its share of the tone
    double noise_dB = -80.0;                 // of the tone
    double drift_dBPerSecond = 0.0;
    double slipAt_s = 1e9, slip_dB = 0.0;

    double level_dB(double t) const
    {
        const double even = depth_dB * std::sin(2.0 * std::numbers::pi * rate_Hz * t + 1.0) + drift_dBPerSecond * t;
        return t < slipAt_s ? even : even + slip_dB;
    }
};

inline constexpr double wobblingAmplitude = 0.1;

inline std::vector<float> samplesOf(const Wobble& w, std::uint64_t seed = 1)
{
    SplitMix64 seeds(seed);
    Xoshiro256 random(seeds);
    std::vector<float> samples(static_cast<std::size_t>(w.seconds * w.sampleRate_Hz));
    const double share = -std::expm1(-2.0 * std::numbers::pi * w.motorWidth_Hz / w.sampleRate_Hz);
    const double loud = w.motor / std::sqrt(share / (2.0 - share)); // of a first-order low-pass on white noise
    const double noise = wobblingAmplitude / std::numbers::sqrt2 * std::pow(10.0, w.noise_dB / 20.0);
    double phase = 0.3, slow = 0.0;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const double t = static_cast<double>(i) / w.sampleRate_Hz;
        slow += share * (random.nextNormal() - slow);
        const double speed = 1.0 + w.speed * std::sin(2.0 * std::numbers::pi * w.speedRate_Hz * t) + loud * slow;
        phase += 2.0 * std::numbers::pi * w.frequency_Hz * speed / w.sampleRate_Hz;
        const double shape = std::cos(phase) + w.harmonics * (std::sin(2.0 * phase) + std::cos(3.0 * phase));
        samples[i] = static_cast<float>(wobblingAmplitude * std::pow(10.0, w.level_dB(t) / 20.0) * shape +
                                        noise * random.nextNormal());
    }
    return samples;
}

// Of the tone's mean power from there to there, dBFS.
inline double trueLevel_dBFS(const Wobble& w, double from_s, double to_s)
{
    double sum = 0.0;
    constexpr int points = 20000;
    for (int i = 0; i < points; ++i)
        sum += std::pow(10.0, w.level_dB(from_s + (to_s - from_s) * (i + 0.5) / points) / 10.0) / points;
    return 20.0 * std::log10(wobblingAmplitude) + 10.0 * std::log10(sum);
}

inline double fluctuation_dB(double depth_dB, double rate_Hz)
{
    constexpr double step_s = 5e-4, fast_s = 0.125;
    const double share = -std::expm1(-step_s / fast_s);
    double fast = 1.0, sum = 0.0, lowest = 1e9, highest = -1e9;
    const auto from = static_cast<int>(1.5 / step_s), to = from + static_cast<int>(std::ceil(2.0 / rate_Hz) / step_s);
    for (int i = 0; i < to; ++i) {
        const double power = std::pow(10.0, 0.1 * depth_dB * std::sin(2.0 * std::numbers::pi * rate_Hz * i * step_s));
        fast += share * (power - fast);
        if (i < from)
            continue;
        const double y = 10.0 * std::log10(fast);
        sum += y / (to - from);
        lowest = std::min(lowest, y);
        highest = std::max(highest, y);
    }
    return std::max(highest - sum, sum - lowest);
}

// How deep a wobble of this rate is whose fluctuation is this.
inline double depthFor_dB(double wanted_dB, double rate_Hz)
{
    double depth_dB = wanted_dB;
    for (int i = 0; i < 4; ++i)
        depth_dB *= wanted_dB / fluctuation_dB(depth_dB, rate_Hz);
    return depth_dB;
}

struct WobbleTold
{
    ToneSummary tone;
    double error_dB = 1e9; // of the level
    std::vector<Check> failed;
};

inline WobbleTold wobbleToldOf(const Wobble& w, int calibratorClass, std::uint64_t seed = 1)
{
    Analyser analyser(w.sampleRate_Hz);
    StretchFinder finder;
    const auto take = [&](const Estimate& e) { finder.add(e); };
    const auto samples = samplesOf(w, seed);
    analyser.add(samples.data(), nullptr, static_cast<int>(samples.size()), take);
    analyser.finish(take);
    WobbleTold told;
    told.tone = finder.summary();
    if (!told.tone.level_dBFS)
        return told;
    told.error_dB =
        *told.tone.level_dBFS - trueLevel_dBFS(w, told.tone.start_s, told.tone.start_s + told.tone.stretch_s);
    for (const Check& check : fitnessChecks(*toneFacts(told.tone), calibratorClass, Hertz(w.nominal_Hz), 5.0))
        if (!check.passes)
            told.failed.push_back(check);
    return told;
}

} // namespace couplet::tests
