// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tracked.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rate_Hz = 48000.0;

double believedAfter(const Truth& truth, double seconds)
{
    Stream stream(truth, 2);
    ToneTracker tracker(truth.sampleRate_Hz, 1.0);
    return tracked(tracker, stream, seconds, truth.sampleRate_Hz).back().mainsFrequency_Hz;
}

} // namespace

TEST_CASE("the mains' family is found by itself within 2 s, beside a tone or without one")
{
    for (const double sampleRate_Hz : {44100.0, 48000.0, 96000.0})
        for (const double amplitude : {0.0, 0.1})
            for (const double hum_Hz : {49.95, 50.05, 59.95, 60.05})
                for (const double hum : {0.1, 0.01, 0.001}) {
                    Truth truth;
                    truth.sampleRate_Hz = sampleRate_Hz;
                    truth.tone_Hz = 500.01;
                    truth.amplitude = amplitude;
                    truth.noise = 1e-4;
                    truth.hum_Hz = hum_Hz;
                    truth.hum = hum;
                    CAPTURE(sampleRate_Hz, amplitude, hum_Hz, hum);
                    CHECK(std::abs(believedAfter(truth, 2.0) - hum_Hz) < 0.6);
                }
}

TEST_CASE("a mains that changes its family is followed within 2 s")
{
    Truth truth;
    truth.tone_Hz = 731.0;
    truth.withSnr_dB(60.0);
    truth.hum = 0.02;
    Stream stream(truth);
    ToneTracker tracker(rate_Hz, 1.0);
    for (const double hum_Hz : {60.0, 50.0, 60.0}) {
        truth.hum_Hz = hum_Hz;
        stream.set(truth);
        const auto hops = tracked(tracker, stream, 3.0, rate_Hz);
        CHECK(hops[40].mainsFrequency_Hz == Approx(hum_Hz).margin(0.6));
        CHECK(hops.back().held());
        CHECK(hops.back().amplitude == Approx(truth.amplitude).epsilon(1e-4));
    }
}

TEST_CASE("without hum none is told and no family is jumped to")
{
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        Truth truth;
        truth.withSnr_dB(30.0);
        Stream stream(truth, seed);
        ToneTracker tracker(rate_Hz, 1.0);
        int told = 0;
        for (const ToneEstimate& e : tracked(tracker, stream, 5.0, rate_Hz)) {
            CHECK(std::abs(e.mainsFrequency_Hz - 50.0) < 0.6);
            told += e.mainsAmplitude > 0.05 * e.amplitude ? 1 : 0;
        }
        CHECK(told == 0);
    }
}
