// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/Decibels.h"
#include "Tracked.h"
#include "Weighed.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <limits>

// What a stream begins with, or falls silent with, says nothing of what comes after.
using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rate_Hz = 48000.0;

Truth inARoom()
{
    Truth truth;
    return truth.withSnr_dB(50.0);
}

std::vector<float> after(std::vector<float> first, const std::vector<float>& second)
{
    first.insert(first.end(), second.begin(), second.end());
    return first;
}

std::vector<float> silence(double duration_s)
{
    return std::vector<float>(static_cast<std::size_t>(duration_s * rate_Hz));
}

std::vector<float> tone(double duration_s)
{
    Stream stream(inARoom(), 7);
    return stream.seconds(duration_s);
}

int disturbedAfter(const std::vector<Estimate>& hops, double from_s)
{
    return static_cast<int>(std::count_if(hops.begin(), hops.end(), [&](const Estimate& e) {
        return e.disturbed && static_cast<double>(e.hop) * e.hop_s > from_s;
    }));
}

double largest(const Estimate& e)
{
    double most = 0.0;
    for (const BroadbandLevels& l : e.levels)
        most = std::max({most, l.peak * l.peak, l.fastMax, l.slowMax});
    return most;
}

} // namespace

TEST_CASE("a tone in a room that comes after digital silence is not disturbed by its own noise")
{
    for (const double silent_s : {0.1, 0.5, 3.0}) {
        Analyser analyser(rate_Hz);
        const auto hops = analysed(analyser, after(silence(silent_s), tone(3.0)));
        CAPTURE(silent_s);
        CHECK(disturbedAfter(hops, silent_s + 0.25) == 0);
    }
}

TEST_CASE("zeros within a tone leave it undisturbed within a quarter of a second")
{
    for (const double lost_s : {0.1, 0.8, 2.0}) {
        Analyser analyser(rate_Hz);
        const auto hops = analysed(analyser, after(after(tone(2.0), silence(lost_s)), tone(2.0)));
        CAPTURE(lost_s);
        CHECK(disturbedAfter(hops, 2.0 + lost_s + 0.25) == 0);
    }
}

TEST_CASE("a tone whose source brings noise of its own is not disturbed by it")
{
    Truth quiet = inARoom();
    quiet.amplitude = 0.0;
    quiet.noise *= 0.03;
    Stream stream(quiet, 3);
    Analyser analyser(rate_Hz);
    const auto hops = analysed(analyser, after(stream.seconds(2.0), tone(2.0)));
    CHECK(disturbedAfter(hops, 2.25) == 0);
}

TEST_CASE("a tone that is switched on is right from its first hop on, wherever in a hop it begins")
{
    for (const double tone_Hz : {80.0, 104.0, 125.0, 248.0, 315.0, 997.0})
        for (int start = 0; start < 20; ++start) {
            Truth truth;
            truth.tone_Hz = tone_Hz;
            truth.amplitude = 0.0;
            truth.noise = 1e-5;
            Stream stream(truth, 5);
            ToneTracker tracker(rate_Hz, 1.0);
            tracked(tracker, stream, 0.5007 + 0.0025 * start, rate_Hz);
            truth.amplitude = 0.1;
            stream.set(truth);
            double worst_dB = 0.0;
            int held = 0;
            for (const ToneEstimate& e : tracked(tracker, stream, 1.0, rate_Hz))
                if (e.held()) {
                    ++held;
                    worst_dB = std::max(worst_dB, std::abs(decibels(e.amplitude / truth.amplitude)));
                }
            CAPTURE(tone_Hz, start);
            CHECK(held >= 15);
            CHECK(worst_dB < 0.03);
        }
}

TEST_CASE("a tone beside hum that is switched off is no longer claimed after 0.2 s")
{
    for (const double tone_Hz : {152.0, 202.0, 248.0}) {
        Truth truth;
        truth.tone_Hz = tone_Hz;
        truth.hum = 0.05;
        truth.withSnr_dB(60.0);
        Stream stream(truth, 5);
        ToneTracker tracker(rate_Hz, 1.0);
        CHECK(tracked(tracker, stream, 4.0, rate_Hz).back().held());
        truth.amplitude = 0.0;
        stream.set(truth);
        const auto after = tracked(tracker, stream, 0.25, rate_Hz);
        CAPTURE(tone_Hz);
        CHECK_FALSE(after.back().held());
    }
}

TEST_CASE("a constant that was there before the stream began leaves nothing in maxima and peaks")
{
    for (const double sampleRate_Hz : {8000.0, 48000.0, 192000.0}) {
        const std::vector<float> constant(static_cast<std::size_t>(4.0 * sampleRate_Hz), 0.25f);
        Analyser live(sampleRate_Hz), take(sampleRate_Hz);
        take.expectConstant(0.25);
        CAPTURE(sampleRate_Hz);
        const auto hops = analysed(live, constant);
        CHECK(decibelsOfPower(largest(hops.back())) < -140.0);
        CHECK(hops.back().duration_s == Approx(4.0 - 0.25).margin(0.06));
        const auto whole = analysed(take, constant);
        CHECK(decibelsOfPower(largest(whole.back())) < -140.0);
        CHECK(whole.back().duration_s == Approx(4.0).margin(0.06));
        live.restart();
        CHECK(decibelsOfPower(largest(analysed(live, constant).back())) < -140.0);
    }
}

TEST_CASE("a low tone on a constant has its own peak from the stream's beginning on")
{
    Truth truth;
    truth.tone_Hz = 20.0;
    truth.amplitude = 0.25;
    truth.constant = 0.25;
    truth.phase = 0.0;
    Stream stream(truth);
    Analyser live(rate_Hz);
    const auto hops = analysed(live, stream.seconds(4.0));
    CHECK(decibels(hops.back().levels[Z].peak / truth.amplitude) == Approx(0.0).margin(0.1));
    Stream again(truth);
    Analyser take(rate_Hz);
    take.expectConstant(truth.constant);
    CHECK(decibels(analysed(take, again.seconds(4.0)).back().levels[Z].peak / truth.amplitude) ==
          Approx(0.0).margin(0.5));
}

TEST_CASE("a drive that is no sound leaves the microphone's tone alone, and is told")
{
    const auto microphone = tone(3.0);
    std::vector<float> drive(microphone);
    std::fill(drive.begin(), drive.begin() + 96000, std::numeric_limits<float>::quiet_NaN());
    Analyser analyser(rate_Hz);
    const auto hops = analysed(analyser, microphone, drive);
    CHECK(std::all_of(hops.begin() + 10, hops.end(), [](const Estimate& e) { return e.tone.held() && !e.broken; }));
    CHECK(hops[39].secondBroken);
    CHECK_FALSE(hops[40].secondBroken);
    CHECK(hops.back().brokenSamples == 0);
    CHECK(hops.back().brokenSecondSamples == 96000);
    CHECK(magnitude(hops.back().secondTone) == Approx(0.1).epsilon(0.01));
}
