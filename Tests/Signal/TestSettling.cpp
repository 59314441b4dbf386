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
