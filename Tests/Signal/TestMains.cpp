// SPDX-License-Identifier: GPL-3.0-or-later
#include "Speed/TargetCheck.h"
#include "Tracked.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rate_Hz = 48000.0;

constexpr double heard_s = 3.0;

// When the wrong family was believed for the last time, in hops of 50 ms.
double settledAfter_s(const std::vector<ToneEstimate>& hops, double hum_Hz)
{
    double after_s = 0.0;
    for (std::size_t h = 0; h < hops.size(); ++h)
        if (std::abs(hops[h].mainsFrequency_Hz - hum_Hz) > 0.6)
            after_s = 0.05 * static_cast<double>(h + 1);
    return after_s;
}

double foundAfter_s(const Truth& truth)
{
    Stream stream(truth, 2);
    ToneTracker tracker(truth.sampleRate_Hz, 1.0);
    return settledAfter_s(tracked(tracker, stream, heard_s, truth.sampleRate_Hz), truth.hum_Hz);
}

} // namespace

TEST_CASE("the mains' family is found by itself within 2 s, beside a tone or without one", "[target]")
{
    double longest_s = 0.0;
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
                    const double after_s = foundAfter_s(truth);
                    CHECK(after_s < targets::family.limit);
                    longest_s = targets::larger(longest_s, after_s);
                }
    targets::hold(targets::family, longest_s);
}

TEST_CASE("a mains that changes its family is followed within 2 s", "[target]")
{
    Truth truth;
    truth.tone_Hz = 731.0;
    truth.withSnr_dB(60.0);
    truth.hum = 0.02;
    Stream stream(truth);
    ToneTracker tracker(rate_Hz, 1.0);
    double longest_s = 0.0;
    for (const double hum_Hz : {60.0, 50.0, 60.0}) {
        truth.hum_Hz = hum_Hz;
        stream.set(truth);
        const auto hops = tracked(tracker, stream, heard_s, rate_Hz);
        longest_s = targets::larger(longest_s, settledAfter_s(hops, hum_Hz));
        CHECK(hops.back().held());
        CHECK(hops.back().amplitude == Approx(truth.amplitude).epsilon(1e-4));
    }
    targets::hold(targets::familyChange, longest_s);
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
