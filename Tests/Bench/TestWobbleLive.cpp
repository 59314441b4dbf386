// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitCapture.h"
#include "Bench/LiveCalibrator.h"
#include "Bench/LiveTone.h"
#include "Bench/Reading.h"
#include "Bench/ReferenceCapture.h"
#include "Quantities/Decibels.h"
#include "WobblingTone.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;
using namespace couplet::tests;

namespace {

LiveCalibrator::Change wobbling(double depth_dB, double rate_Hz)
{
    return [=](double x, double t) {
        return x * std::pow(10.0, depth_dB * std::sin(2.0 * std::numbers::pi * rate_Hz * t) / 20.0);
    };
}

double wobbleUniform(Xoshiro256& random, double from, double to)
{
    return from + (to - from) * static_cast<double>(random.next() >> 11) * 0x1p-53;
}

// Ten seconds of a tone whose level wobbles, as estimates: the envelope itself, part by part.
ToneSummary wobbleSummaryOf(double depth_dB, double rate_Hz, double phase)
{
    StretchFinder finder;
    for (int hop = 0; hop < 200; ++hop) {
        Estimate e;
        e.hop = hop + 1;
        e.sampleRate_Hz = 48000.0;
        e.hop_s = 0.05;
        e.tone.reason = NoTone::none;
        e.tone.frequency_Hz = 1000.0;
        e.tone.window_s = 1.0;
        e.tone.unbroken = true;
        double mean = 0.0;
        for (std::size_t i = 0; i < partsOfHop; ++i) {
            const double t = 0.05 * hop + 0.01 * (static_cast<double>(i) + 0.5);
            e.tone.powers[i] = std::pow(10.0, 0.1 * depth_dB * std::sin(2.0 * std::numbers::pi * rate_Hz * t + phase));
            mean += e.tone.powers[i] / partsOfHop;
        }
        e.tone.hopAmplitude = e.tone.amplitude = std::sqrt(mean);
        finder.add(e);
    }
    return finder.summary();
}

} // namespace

TEST_CASE("a wobble within the class does not restart the ten seconds, and the offset is right")
{
    for (const double rate_Hz : {0.5, 1.0, 5.0}) {
        ReferenceCapture capture;
        LiveCalibrator live([&](const Estimate& e) { capture.add(e); });
        REQUIRE(live.seat());
        CaptureWish wish;
        wish.seatings = 1;
        capture.start(setupOnPaper(), wish);
        live.play(25.0, wobbling(depthFor_dB(0.05, rate_Hz), rate_Hz),
                  [&] { return capture.state() == CaptureState::done; });
        CAPTURE(rate_Hz, capture.notice());
        REQUIRE(capture.state() == CaptureState::done);
        CHECK(capture.restarts() == 0);
        CHECK(capture.outcome()->fitToUse);
        // The simulated seat wanders by 0.01 dB; of the fastest wobble the power's mean is 0.0005 dB above the level's.
        CHECK(capture.outcome()->offset->level_dB == Approx(121.97).margin(0.006));
    }
}

TEST_CASE("a calibrator that wobbles within its class is read for a fit")
{
    FitCapture capture;
    std::optional<ToneSummary> read;
    LiveCalibrator live([&](const Estimate& e) {
        capture.add(e);
        if (auto tone = capture.taken())
            read = tone;
    });
    REQUIRE(live.seat());
    capture.allowStraying(0.15);
    capture.start(false);
    live.play(15.0, wobbling(0.1, 2.0), [&] { return read.has_value(); });
    REQUIRE(read);
    CHECK(*read->level_dBFS == Approx(calibratorTruth_dBFS).margin(0.015));
    CHECK(read->disturbances == 0);
}

TEST_CASE("a tone that wobbles is read live with its mean level and a note, not with each swing")
{
    LiveTone tone;
    int readings = 0;
    LiveCalibrator live([&](const Estimate& e) { tone.add(e); });
    REQUIRE(live.seat());
    live.play(8.0, wobbling(0.12, 1.3));
    live.play(3.0, wobbling(0.12, 1.3), [&] {
        const Reading r = makeReading(tone.summary(), Setup{});
        ++readings;
        REQUIRE(r.tone.level_dBFS);
        CHECK(*r.tone.level_dBFS == Approx(calibratorTruth_dBFS).margin(0.03));
        CHECK(std::any_of(r.notes.begin(), r.notes.end(),
                          [](const std::string& note) { return note.find("the tone is unsteady") == 0; }));
        CHECK_FALSE(r.tone.breaks.any());
        return false;
    });
    CHECK(readings > 250);
}

TEST_CASE("what a wobble adds to U holds the level that a longer take would have")
{
    SplitMix64 seeds(4);
    Xoshiro256 random(seeds);
    int held = 0;
    constexpr int trials = 1000;
    double slowest = 0.0, fastest = 0.0;
    for (int i = 0; i < trials; ++i) {
        const double rate_Hz = 0.05 * std::pow(400.0, wobbleUniform(random, 0.0, 1.0));
        const double depth_dB = depthFor_dB(0.05, std::max(rate_Hz, 0.2));
        const ToneSummary s = wobbleSummaryOf(depth_dB, rate_Hz, wobbleUniform(random, 0.0, 2.0 * std::numbers::pi));
        REQUIRE(s.level_dBFS);
        const double error_dB =
            std::abs(*s.level_dBFS - trueLevel_dBFS({.depth_dB = depth_dB, .rate_Hz = 1.0}, 0.0, 1.0) +
                     decibels(wobblingAmplitude));
        held += error_dB <= 2.0 * s.scatter_dB ? 1 : 0;
        (rate_Hz < 0.1 ? slowest : fastest) = std::max(rate_Hz < 0.1 ? slowest : fastest, error_dB / s.scatter_dB);
    }
    CAPTURE(held, slowest, fastest);
    CHECK(held > 0.95 * trials);
    CHECK(fastest < 1.0); // of a wobble with a period in the stretch it counts more than that wobble does
}
