// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/Decibels.h"
#include "Tracked.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rate_Hz = 48000.0;
constexpr std::size_t where = 120100;

std::vector<float> tone(double seconds, double amplitude = 0.1, double tone_Hz = 1000.04)
{
    Truth truth;
    truth.tone_Hz = tone_Hz;
    truth.amplitude = amplitude;
    truth.hum = 1e-4;
    Stream stream(truth.withSnr_dB(60.0), 3);
    return stream.seconds(seconds);
}

void hold(std::vector<float>& samples, std::size_t from, std::ptrdiff_t count, float value)
{
    std::fill_n(samples.begin() + static_cast<std::ptrdiff_t>(from), count, value);
}

Estimate lastOf(const std::vector<float>& samples)
{
    Analyser analyser(rate_Hz);
    return analysed(analyser, samples).back();
}

} // namespace

TEST_CASE("a drop-out within a tone is told with its length, of zeros or of a sample that is held")
{
    for (const double tone_Hz : {250.3, 1000.04, 6000.0})
        for (const int lost : {600, 720, 4801, 20000}) {
            auto zeros = tone(5.0, 0.1, tone_Hz);
            auto held = zeros;
            hold(zeros, where, lost, 0.0f);
            hold(held, where, lost, held[where - 1]);
            CAPTURE(tone_Hz, lost);
            CHECK(lastOf(zeros).dropOuts == 1);
            CHECK(lastOf(zeros).dropOutSamples == lost);
            CHECK(lastOf(held).dropOuts == 1);
            CHECK(lastOf(held).dropOutSamples == lost + 1);
        }
}

TEST_CASE("several drop-outs add up, wherever the host cuts its blocks")
{
    auto samples = tone(6.0);
    for (const std::size_t at : {100000u, 150011u, 200017u})
        hold(samples, at, 480, 0.0f);
    Analyser analyser(rate_Hz);
    Estimate last;
    for (std::size_t i = 0; i < samples.size(); i += 77)
        analyser.add(&samples[i], nullptr, static_cast<int>(std::min<std::size_t>(77, samples.size() - i)),
                     [&](const Estimate& e) { last = e; });
    CHECK(last.dropOuts == 3);
    CHECK(last.dropOutSamples == 3 * 480);
}

TEST_CASE("an undisturbed tone, its end, clipping and silence before it are no drop-outs")
{
    CHECK(lastOf(tone(5.0)).dropOuts == 0);
    auto samples = tone(5.0);
    hold(samples, 0, 48000, 0.0f);      // begins after silence
    hold(samples, 180000, 60000, 0.0f); // and ends in it
    CHECK(lastOf(samples).dropOuts == 0);
    samples = tone(5.0, 30.0, 100.3);
    for (float& x : samples)
        x = std::clamp(x, -1.0f, 1.0f);
    hold(samples, where, 2000, 1.0f);
    CHECK(lastOf(samples).clippedSamples > 0);
    CHECK(lastOf(samples).dropOuts == 0);
}

TEST_CASE("a square wave and a quiet tone in 16 bits stand still without dropping out")
{
    auto samples = tone(5.0, 0.1, 100.3);
    for (float& x : samples)
        x = x < 0.0f ? -0.1f : 0.1f;
    CHECK(lastOf(samples).dropOuts == 0);
    samples = tone(5.0, 1.2e-4, 100.3); // four steps high
    for (float& x : samples)
        x = std::round(x * 32768.0f) / 32768.0f;
    CHECK(lastOf(samples).dropOuts == 0);
}

TEST_CASE("samples beyond 120 dB above full scale are no sound, and nothing is spoilt by them")
{
    auto samples = tone(4.0);
    samples[96123] = 3e38f;
    samples[96130] = -1.1e6f;
    Analyser analyser(rate_Hz);
    const auto hops = analysed(analyser, samples);
    CHECK(hops[40].broken);
    CHECK(hops.back().brokenSamples == 2);
    CHECK(hops.back().levels[1].peak < 0.2);
    CHECK(hops.back().levels[2].fastMax < 0.01);
    CHECK(hops[61].tone.held());
    CHECK(std::abs(decibels(hops[61].tone.amplitude / 0.1)) < 0.001);
}

TEST_CASE("subnormal samples are read as what they are and do no harm to the tone that follows")
{
    SplitMix64 random(5);
    std::vector<float> samples(96000);
    for (float& x : samples)
        x = random.next() % 2 == 0 ? 1e-40f : -1e-40f;
    Analyser analyser(rate_Hz);
    const auto quiet = analysed(analyser, samples);
    CHECK_FALSE(quiet.back().tone.held());
    CHECK(quiet.back().peak == Approx(1e-40).epsilon(1e-4));
    CHECK(quiet.back().brokenSamples == 0);
    const auto hops = analysed(analyser, tone(1.5));
    CHECK(hops.back().tone.held());
    CHECK(std::abs(decibels(hops.back().tone.amplitude / 0.1)) < 0.001);
}
