// SPDX-License-Identifier: GPL-3.0-or-later
#include "CramerRao.h"
#include "Quantities/Decibels.h"
#include "Signal/ToneTracker.h"

#include <catch2/catch.hpp>

// The target: at most 1.10 times the joint Cramer-Rao bound, and no bias; with two standard errors of the trials.
using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double mostOverBound = 1.10;
constexpr double mostBias_dB = 0.0005;

struct Scatter
{
    double level_dB = 0.0, frequency_Hz = 0.0; // standard deviations
    double levelBias_dB = 0.0, bias_Hz = 0.0;  // means
    int windows = 0, shortened = 0;
};

// Windows that do not overlap, from the following tracker itself: it found the tone and follows it as in use.
Scatter scatterOf(const Truth& truth, double window_s, int wanted, std::uint64_t seed)
{
    Stream stream(truth, seed);
    ToneTracker tracker(truth.sampleRate_Hz, window_s);
    const int hops = static_cast<int>(std::lround(window_s * truth.sampleRate_Hz / tracker.hopSamples()));
    const double full_s = hops * tracker.hopSamples() / truth.sampleRate_Hz;
    double sum = 0.0, squares = 0.0, sumF = 0.0, squaresF = 0.0;
    Scatter s;
    const int settling = hops + 12;
    for (int hop = -settling; s.windows < wanted;) {
        const auto chunk = stream.chunk();
        if (!tracker.add(chunk.data(), folded(chunk.data())))
            continue;
        if (++hop <= 0 || hop % hops != 0)
            continue;
        const ToneEstimate& e = tracker.estimate();
        ++s.windows;
        if (!e.held() || e.window_s < 0.999 * full_s) {
            ++s.shortened;
            continue;
        }
        const double level = decibels(e.amplitude / truth.amplitude), frequency = e.frequency_Hz - truth.tone_Hz;
        sum += level;
        squares += level * level;
        sumF += frequency;
        squaresF += frequency * frequency;
    }
    const double n = s.windows - s.shortened;
    s.levelBias_dB = sum / n;
    s.bias_Hz = sumF / n;
    s.level_dB = std::sqrt(squares / n - s.levelBias_dB * s.levelBias_dB);
    s.frequency_Hz = std::sqrt(squaresF / n - s.bias_Hz * s.bias_Hz);
    return s;
}

void holdAgainstBound(const Truth& truth, double window_s, int windows)
{
    const int hop = hopLength(truth.sampleRate_Hz);
    const int samples = hop * static_cast<int>(std::lround(window_s * truth.sampleRate_Hz / hop));
    const Bound bound = jointBound(truth, samples);
    const auto seed = static_cast<std::uint64_t>(truth.tone_Hz + truth.sampleRate_Hz + 1e6 * truth.noise); // one a cell
    const Scatter s = scatterOf(truth, window_s, windows, seed);
    const double standardError = 1.0 / std::sqrt(2.0 * windows);
    CAPTURE(truth.sampleRate_Hz, truth.tone_Hz, truth.noise, window_s, s.shortened);
    const double levelRatio = s.level_dB / bound.level_dB, frequencyRatio = s.frequency_Hz / bound.frequency_Hz;
    CHECK(levelRatio < mostOverBound + 2.0 * standardError);
    CHECK(frequencyRatio < mostOverBound + 2.0 * standardError);
    CHECK(std::abs(s.levelBias_dB) < std::max(mostBias_dB, 3.0 * s.level_dB / std::sqrt(windows)));
    CHECK(s.shortened <= windows / 50);
}

Truth toneAt(double frequency_Hz, double snr_dB, double sampleRate_Hz = 48000.0)
{
    Truth truth;
    truth.sampleRate_Hz = sampleRate_Hz;
    truth.tone_Hz = frequency_Hz;
    truth.amplitude = 0.5;
    return truth.withSnr_dB(snr_dB);
}

} // namespace

TEST_CASE("in 0.1 s the tone's level and frequency scatter as the joint Cramer-Rao bound allows")
{
    for (const double snr_dB : {10.0, 40.0, 80.0})
        for (const double frequency_Hz : {20.0, 1000.04, 15000.0})
            holdAgainstBound(toneAt(frequency_Hz, snr_dB), 0.1, 400);
}

TEST_CASE("in 1 s the tone's level and frequency scatter as the joint Cramer-Rao bound allows")
{
    holdAgainstBound(toneAt(500.01, 20.0), 1.0, 150);
    holdAgainstBound(toneAt(1000.04, 60.0), 1.0, 150);
}

TEST_CASE("at every rate the tone's level and frequency scatter as the joint Cramer-Rao bound allows")
{
    for (const double sampleRate_Hz : {44100.0, 96000.0, 192000.0})
        holdAgainstBound(toneAt(1000.04, 40.0, sampleRate_Hz), 0.1, 200);
}

// Trials for 3 %: 600 windows have a standard error of 2.9 %.
TEST_CASE("the tone scatters as the joint Cramer-Rao bound allows over the whole grid", "[.long]")
{
    for (const double window_s : {0.1, 1.0, 10.0})
        for (const double frequency_Hz : {20.0, 50.5, 500.0, 1000.04, 15000.0})
            for (const double snr_dB : {10.0, 20.0, 40.0, 60.0, 80.0})
                holdAgainstBound(toneAt(frequency_Hz, snr_dB), window_s, 600);
    for (const double sampleRate_Hz : {44100.0, 96000.0, 192000.0})
        for (const double frequency_Hz : {20.0, 1000.04, 15000.0})
            for (const double snr_dB : {10.0, 40.0, 80.0})
                for (const double window_s : {0.1, 1.0})
                    holdAgainstBound(toneAt(frequency_Hz, snr_dB, sampleRate_Hz), window_s, 600);
}
