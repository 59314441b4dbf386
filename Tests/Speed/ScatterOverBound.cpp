// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tables.h"

#include "Signal/CramerRao.h"
#include "Signal/ToneTracker.h"

#include <fmt/format.h>

#include "Quantities/Decibels.h"

namespace couplet::speed {
namespace {

constexpr int windows = 300; // standard error 4 %

// Level and frequency, as '1.00 / 1.02'. Windows that do not overlap, from the following tracker.
std::string ratios(const test::Truth& truth, double window_s)
{
    test::Stream stream(truth, static_cast<std::uint64_t>(truth.tone_Hz + 1e7 * truth.noise));
    ToneTracker tracker(truth.sampleRate_Hz, window_s);
    const int hops = static_cast<int>(std::lround(window_s * truth.sampleRate_Hz / tracker.hopSamples()));
    double sums[2] = {}, squares[2] = {};
    int n = 0;
    for (int hop = -hops - 12; n < windows;) {
        const auto chunk = stream.chunk();
        if (!tracker.add(chunk.data(), folded(chunk.data())) || ++hop <= 0 || hop % hops != 0)
            continue;
        ++n;
        const ToneEstimate& e = tracker.estimate();
        const double values[] = {decibels(e.amplitude / truth.amplitude), e.frequency_Hz - truth.tone_Hz};
        for (int i = 0; i < 2; ++i) {
            sums[i] += values[i];
            squares[i] += values[i] * values[i];
        }
    }
    const test::Bound bound = test::jointBound(truth, hops * tracker.hopSamples());
    const auto deviation = [&](int i) { return std::sqrt(squares[i] / n - sums[i] / n * sums[i] / n); };
    return fmt::format("{:.2f} / {:.2f}", deviation(0) / bound.level_dB, deviation(1) / bound.frequency_Hz);
}

} // namespace

std::string scatterTable()
{
    std::string table = "| window | tone | 10 dB | 20 dB | 40 dB | 60 dB | 80 dB |\n|---|---|---|---|---|---|---|\n";
    for (const double window_s : {0.1, 1.0})
        for (const double tone_Hz : {20.0, 50.5, 500.0, 1000.04, 15000.0}) {
            table += fmt::format("| {:g} s | {:g} Hz |", window_s, tone_Hz);
            for (const double snr_dB : {10.0, 20.0, 40.0, 60.0, 80.0}) {
                test::Truth truth;
                truth.tone_Hz = tone_Hz;
                truth.amplitude = 0.5;
                table += fmt::format(" {} |", ratios(truth.withSnr_dB(snr_dB), window_s));
            }
            table += "\n";
        }
    return table;
}

} // namespace couplet::speed
