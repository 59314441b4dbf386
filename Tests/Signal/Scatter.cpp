// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Scatter.h"

#include "Quantities/Decibels.h"
#include "Signal/ToneTracker.h"

#include <algorithm>
#include <cmath>

namespace couplet::test {

double Scatter::mostBias_dB() const
{
    return std::max(0.0005, 3.0 * level_dB / std::sqrt(windows));
}

Scatter scatterOf(const Truth& truth, double window_s, int wanted, std::uint64_t seed)
{
    Stream stream(truth, seed);
    ToneTracker tracker(truth.sampleRate_Hz, window_s);
    const int hops = static_cast<int>(std::lround(window_s * truth.sampleRate_Hz / tracker.hopSamples()));
    const double full_s = hops * tracker.hopSamples() / truth.sampleRate_Hz;
    double sum = 0.0, squares = 0.0, sumF = 0.0, squaresF = 0.0;
    Scatter s;
    s.bound = jointBound(truth, hops * tracker.hopSamples());
    const int settling = hops + 12; // the first window, and half a second for the tone to be found in
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

Truth Cell::truth() const
{
    Truth t;
    t.sampleRate_Hz = sampleRate_Hz;
    t.tone_Hz = tone_Hz;
    t.amplitude = 0.5;
    return t.withSnr_dB(snr_dB);
}

std::vector<Cell> wholeGrid()
{
    std::vector<Cell> all;
    for (const double window_s : {0.1, 1.0, 10.0})
        for (const double tone_Hz : {20.0, 50.5, 500.0, 1000.04, 15000.0})
            for (const double snr_dB : {10.0, 20.0, 40.0, 60.0, 80.0})
                all.push_back({window_s, tone_Hz, snr_dB});
    for (const double sampleRate_Hz : {44100.0, 96000.0, 192000.0})
        for (const double window_s : {0.1, 1.0, 10.0})
            for (const double tone_Hz : {20.0, 1000.04, 15000.0})
                for (const double snr_dB : {10.0, 40.0, 80.0})
                    all.push_back({window_s, tone_Hz, snr_dB, sampleRate_Hz});
    return all;
}

Scatter scatterOf(const Cell& cell, int windows)
{
    const Truth truth = cell.truth();
    const auto seed = static_cast<std::uint64_t>(truth.tone_Hz + truth.sampleRate_Hz + 1e6 * truth.noise);
    return scatterOf(truth, cell.window_s, windows, seed);
}

} // namespace couplet::test
