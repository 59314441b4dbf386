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

TEST_CASE("zeros of a few samples in every block are drop-outs, and so is a sample that is held")
{
    for (const double tone_Hz : {250.3, 1000.04, 6000.0})
        for (const std::size_t block : {64u, 128u, 512u}) {
            auto zeros = tone(3.0, 0.1, tone_Hz);
            const auto whole = zeros;
            std::int64_t lost = 0;
            for (std::size_t i = 48000; i < 96000; i += block, lost += static_cast<std::int64_t>(block / 8))
                hold(zeros, i, static_cast<std::ptrdiff_t>(block / 8), 0.0f);
            CAPTURE(tone_Hz, block);
            CHECK(lastOf(whole).dropOuts == 0);
            CHECK(static_cast<double>(lastOf(zeros).dropOutSamples) == Approx(static_cast<double>(lost)).epsilon(0.02));
            CHECK(lastOf(zeros).cutPeaks == 0);
        }
    auto held = tone(3.0); // where the tone is steep
    for (std::size_t i = 48000; i < 96000; i += 480) {
        const auto steep = std::find_if(held.begin() + static_cast<std::ptrdiff_t>(i), held.end(),
                                        [](float x) { return std::abs(x) < 0.03f; });
        std::fill_n(steep, 20, *steep);
    }
    CHECK(lastOf(held).dropOuts == 100);
}

TEST_CASE("no tone in 8, 16 or 24 bits stands still, with dither or without, alone or beside hum")
{
    SplitMix64 seeds(9);
    Xoshiro256 random(seeds);
    for (const int bits : {8, 16, 24})
        for (const double amplitude : {0.9, 0.1, 0.01, 1e-3, 2e-4})
            for (const double tone_Hz : {20.1, 100.0, 997.0, 1000.0, 6000.0, 15000.0, 16000.0})
                for (const double dither : {0.0, 1.0}) {
                    Truth truth;
                    truth.tone_Hz = tone_Hz;
                    truth.amplitude = amplitude;
                    truth.hum = bits == 16 ? 0.05 * amplitude : 0.0;
                    Stream stream(truth, 3);
                    auto samples = stream.seconds(1.0);
                    const double scale = std::pow(2.0, bits - 1);
                    for (float& x : samples)
                        x = static_cast<float>(
                            std::round(static_cast<double>(x) * scale + dither * 0.4 * random.nextNormal()) / scale);
                    CAPTURE(bits, amplitude, tone_Hz, dither);
                    CHECK(lastOf(samples).dropOuts == 0);
                    CHECK(lastOf(samples).cutPeaks == 0);
                }
}

TEST_CASE("a tone that ends in the noise of 16 bits has not dropped out")
{
    SplitMix64 seeds(4);
    Xoshiro256 random(seeds);
    auto samples = tone(4.0);
    for (std::size_t i = 0; i < samples.size(); ++i)
        samples[i] =
            i % 96000 < 48000 ? samples[i] : static_cast<float>(std::round(0.5 * random.nextNormal()) / 32768.0);
    CHECK(lastOf(samples).dropOuts == 0);
}

TEST_CASE("peaks that were cut and turned down are counted, a soft or a noisy top is not")
{
    const auto cut = [](double at, double gain, double noise) {
        SplitMix64 seeds(6);
        Xoshiro256 random(seeds);
        auto samples = tone(2.0, 0.5, 1000.04);
        for (float& x : samples) {
            const double c = std::clamp(static_cast<double>(x), -0.5 * at, 0.5 * at);
            x = static_cast<float>(gain * c + noise * random.nextNormal());
        }
        return lastOf(samples).cutPeaks;
    };
    // Two peaks a period; the first hops go by before the tone is known.
    CHECK(cut(0.87, 0.5, 0.0) > 3000);
    CHECK(cut(0.95, 0.5, 0.0) > 3000);
    CHECK(cut(0.87, 3.0, 0.0) > 3000); // beyond full scale, as floats can
    CHECK(cut(1.2, 0.5, 0.0) == 0);
    CHECK(cut(0.87, 0.5, 1e-5) == 0); // -100 dBFS of noise behind it: an earphone that drives itself into a square
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
