// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/Decibels.h"
#include "Speed/TargetCheck.h"
#include "Tracked.h"

#include <catch2/catch.hpp>

#include <bit>
#include <limits>

using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rate_Hz = 48000.0;

Truth busy()
{
    Truth truth;
    truth.hum = 0.003;
    truth.second = 0.02;
    truth.constant = 0.01;
    return truth.withSnr_dB(45.0);
}

double level_dB(const Estimate& e, const Truth& truth)
{
    return decibels(e.tone.amplitude / truth.amplitude);
}

} // namespace

TEST_CASE("samples that are not finite count as zero and the level is back within one window")
{
    const Truth truth = busy();
    for (const float bad : {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity(),
                            -std::numeric_limits<float>::infinity()}) {
        Stream stream(truth, 9);
        auto samples = stream.seconds(4.0);
        samples[96123] = samples[96130] = bad;
        Analyser analyser(rate_Hz, 1.0);
        const auto hops = analysed(analyser, samples);
        CHECK(hops[39].brokenSamples == 0);
        CHECK_FALSE(hops[39].broken);
        CHECK(hops[40].broken);
        CHECK(hops[40].brokenSamples == 2);
        CHECK_FALSE(hops[41].broken);
        for (const Estimate& e : hops) {
            CHECK(std::isfinite(e.tone.amplitude));
            CHECK(std::isfinite(e.noisePower));
            CHECK(std::isfinite(e.levels[0].slow));
        }
        CHECK(hops[61].tone.held()); // one second later
        CHECK(std::abs(level_dB(hops[61], truth)) < 0.001);
        CHECK(hops[61].tone.window_s > 0.85);
        CHECK(hops.back().brokenSamples == 2);
    }
}

TEST_CASE("a stream of nothing but garbage does no harm")
{
    Analyser analyser(rate_Hz, 1.0);
    SplitMix64 random(3);
    std::vector<float> samples(96000);
    for (float& x : samples)
        x = std::bit_cast<float>(static_cast<std::uint32_t>(random.next())); // any bits at all
    analysed(analyser, samples);
    Stream stream(busy(), 1);
    const auto hops = analysed(analyser, stream.seconds(3.0));
    CHECK(hops.back().tone.held());
    CHECK(std::abs(level_dB(hops.back(), busy())) < 0.001);
}

TEST_CASE("a knock is told and the level is back within one window")
{
    const Truth truth = busy();
    Stream stream(truth, 9);
    auto samples = stream.seconds(4.0);
    for (int i = 0; i < 480; ++i) // 10 ms of a decaying 300 Hz thump
        samples[static_cast<std::size_t>(96100 + i)] +=
            static_cast<float>(0.3 * std::exp(-i / 120.0) * std::sin(2.0 * pi * 300.0 / rate_Hz * i));
    Analyser analyser(rate_Hz, 1.0);
    const auto hops = analysed(analyser, samples);
    CHECK(hops[40].disturbed);
    int told = 0;
    for (const Estimate& e : hops)
        told += e.disturbed ? 1 : 0;
    CHECK(told <= 3);
    CHECK(hops[61].tone.held());
    CHECK(std::abs(level_dB(hops[61], truth)) < 0.001);
}

TEST_CASE("a quiet stream is never told to be disturbed")
{
    int told = 0;
    for (std::uint64_t seed = 1; seed <= 4; ++seed) {
        Stream stream(busy(), seed);
        Analyser analyser(rate_Hz, 1.0);
        for (const Estimate& e : analysed(analyser, stream.seconds(5.0)))
            told += e.disturbed ? 1 : 0;
    }
    CHECK(told == 0);
}

TEST_CASE("after a drop-out the level is back within one window")
{
    const Truth truth = busy();
    for (const int lost : {64, 1000, 12000}) {
        Stream stream(truth, 9);
        auto samples = stream.seconds(4.0);
        std::fill_n(samples.begin() + 96100, lost, 0.0f);
        Analyser analyser(rate_Hz, 1.0);
        const auto hops = analysed(analyser, samples);
        const auto after = static_cast<std::size_t>((96100 + lost) / 2400 + 21);
        CAPTURE(lost);
        CHECK(hops[40].disturbed);
        CHECK(hops[after].tone.held());
        CHECK(std::abs(level_dB(hops[after], truth)) < 0.001);
    }
}

TEST_CASE("samples that stay at full scale are counted as clipped, those just below it are not")
{
    Truth truth;
    truth.amplitude = 0.9998;
    truth.tone_Hz = 100.0;
    truth.withSnr_dB(110.0);
    Analyser analyser(rate_Hz, 1.0);
    Stream below(truth, 1);
    CHECK(analysed(analyser, below.seconds(0.5)).back().clippedSamples == 0);

    std::vector<float> samples(9600, 0.1f);
    samples[100] = samples[101] = 1.0f;                                      // two: a peak
    samples[500] = samples[501] = samples[502] = 1.0f;                       // three: a run
    samples[700] = samples[701] = -1.0f, samples[702] = samples[703] = 1.0f; // two and two
    for (int i = 0; i < 40; ++i)
        samples[static_cast<std::size_t>(940 + i)] = -1.0f; // across a chunk's edge
    Analyser counting(rate_Hz, 1.0);
    const auto hops = analysed(counting, samples);
    CHECK(hops.back().clippedSamples == 43);
    CHECK(hops[0].hopPeak == 1.0);
    CHECK(hops[1].hopPeak == Approx(0.1));
    CHECK(hops[1].peak == 1.0);
}

TEST_CASE("the tone's level is linear from full scale to 110 dB below it", "[target]")
{
    double worst_dB = 0.0;
    for (double below_dB = 0.0; below_dB <= 110.0; below_dB += 10.0) {
        Truth truth;
        truth.amplitude = std::pow(10.0, -below_dB / 20.0);
        truth.noise = 1e-9; // far below what a converter has: this is about arithmetic
        Stream stream(truth, 3);
        Analyser analyser(rate_Hz, 1.0);
        const auto hops = analysed(analyser, stream.seconds(2.0));
        CAPTURE(below_dB);
        CHECK(hops.back().tone.held());
        worst_dB = targets::larger(worst_dB, std::abs(level_dB(hops.back(), truth)));
    }
    targets::hold(targets::linearity, worst_dB);
}

TEST_CASE("the second channel's tone has its own level and phase")
{
    Truth truth = busy();
    Stream stream(truth, 5);
    const auto samples = stream.seconds(2.0);
    Truth other = truth;
    other.amplitude = 0.02;
    other.phase = truth.phase + 1.0;
    other.second = other.hum = other.constant = 0.0;
    other.noise = 1e-6;
    Stream drive(other, 6);
    Analyser analyser(rate_Hz, 1.0);
    const auto hops = analysed(analyser, samples, drive.seconds(2.0));
    CHECK(magnitude(hops.back().secondTone) == Approx(0.02).epsilon(1e-4));
}

TEST_CASE("the noise beside the tone is told without hum, harmonics and constant")
{
    Truth truth = busy();
    Stream stream(truth, 5);
    Analyser analyser(rate_Hz, 1.0);
    const auto hops = analysed(analyser, stream.seconds(4.0));
    double mean = 0.0;
    for (std::size_t h = 40; h < 80; ++h)
        mean += hops[h].noisePower / 40.0;
    // 20 kHz of the 24 kHz that hold it; the lines take out some 2 % more.
    CHECK(decibelsOfPower(mean / (truth.noise * truth.noise * 20000.0 / 24000.0)) == Approx(0.0).margin(0.15));
}
