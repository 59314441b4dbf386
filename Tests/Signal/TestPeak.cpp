// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/PeakInterpolator.h"
#include "Stream.h"

#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::test;

namespace {

struct Peaks
{
    double samples = 0.0, between = 0.0;
};

Peaks peaksOf(const Truth& truth, double duration_s)
{
    Stream stream(truth);
    PeakInterpolator interpolate(truth.sampleRate_Hz);
    Peaks peaks;
    for (double t = 0.0; t < duration_s; t += chunkLength / truth.sampleRate_Hz) {
        const auto chunk = stream.chunk();
        for (const float x : chunk)
            peaks.samples = std::max(peaks.samples, static_cast<double>(std::abs(x)));
        // After the first two chunks the tone's beginning is behind the filter.
        const double now = interpolate(chunk.data());
        if (t > 0.01)
            peaks.between = std::max(peaks.between, now);
    }
    return peaks;
}

} // namespace

TEST_CASE("a sine's peak is found between its samples")
{
    for (const double rate_Hz : {44100.0, 48000.0, 88200.0, 96000.0, 192000.0})
        for (const auto& [share, closeness_dB] : {std::pair(1.0 / 12.0, 0.02), std::pair(1.0 / 6.0, 0.06)})
            for (const double phase : {0.1, 0.7, 1.3}) {
                // A whole share of the rate: the samples fall on the same phases for ever and may miss every peak.
                // At the highest rates the grid is the samples themselves, so the shares are of 48 kHz.
                Truth truth;
                truth.sampleRate_Hz = rate_Hz;
                truth.tone_Hz = share * rate_Hz / (rate_Hz > 120000.0 ? 4.0 : rate_Hz > 60000.0 ? 2.0 : 1.0);
                truth.phase = phase;
                CAPTURE(rate_Hz, truth.tone_Hz, phase);
                const double error_dB = decibels(peaksOf(truth, 0.05).between / truth.amplitude);
                CHECK(error_dB < 0.01);
                CHECK(error_dB > -closeness_dB);
            }
}

TEST_CASE("samples alone would miss a sine's peak by more than a decibel")
{
    Truth truth;
    truth.tone_Hz = 8000.0;
    truth.phase = pi / 6.0;
    CHECK(decibels(peaksOf(truth, 0.05).samples / truth.amplitude) < -1.2);
    CHECK(decibels(peaksOf(truth, 0.05).between / truth.amplitude) > -0.06);
}
