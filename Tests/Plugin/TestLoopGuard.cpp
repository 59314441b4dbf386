// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LoopGuard.h"
#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <random>
#include <vector>

using namespace couplet;

namespace {

struct Rising
{
    double from_dBFS, perSecond_dB, to_dBFS; // then it stays there
    double frequency_Hz = 1000.0;
    double noise_dBFS = -70.0; // RMS
    int channel = 0;
    double rate_Hz = 48000.0;
    int block = 256;
    double begins_s = 0.0; // before that there is noise alone
};

// Seconds until the guard mutes; absent within 5 s.
std::optional<double> mutedAfter(const Rising& rising)
{
    LoopGuard guard;
    guard.prepare(rising.rate_Hz);
    std::mt19937 random(1);
    std::normal_distribution<double> normal(0.0, ratioFrom_dB(rising.noise_dBFS));
    std::vector<float> loud(static_cast<std::size_t>(rising.block)), quiet(loud.size());
    std::int64_t n = 0;
    while (static_cast<double>(n) < 5.0 * rising.rate_Hz) {
        for (std::size_t i = 0; i < loud.size(); ++i, ++n) {
            const double t = static_cast<double>(n) / rising.rate_Hz;
            const double since = t - rising.begins_s;
            const double level = std::min(rising.from_dBFS + rising.perSecond_dB * since, rising.to_dBFS);
            const double tone = since < 0.0 ? 0.0 : ratioFrom_dB(level);
            const double sine = std::sin(2.0 * std::numbers::pi * rising.frequency_Hz * t);
            loud[i] = static_cast<float>(std::clamp(tone * sine + normal(random), -1.0, 1.0));
            quiet[i] = static_cast<float>(normal(random));
        }
        const float* channels[] = {rising.channel == 0 ? loud.data() : quiet.data(),
                                   rising.channel == 1 ? loud.data() : quiet.data()};
        guard.add(channels, 2, rising.block);
        if (guard.muted())
            return static_cast<double>(n) / rising.rate_Hz;
    }
    return {};
}

} // namespace

TEST_CASE("a line that rises by 20 dB/s or more and stands above -12 dBFS is a loop")
{
    for (const double slope : {21.0, 30.0, 60.0})
        for (const double frequency : {80.0, 250.0, 1000.0, 3157.3, 12000.0}) {
            CAPTURE(slope, frequency);
            const auto muted = mutedAfter({-50.0, slope, 0.0, frequency});
            REQUIRE(muted);
            const double loud_s = 38.0 / slope; // when it passes -12 dBFS
            CHECK(*muted > loud_s - 0.05);
            CHECK(*muted < loud_s + 0.15);
        }
}

TEST_CASE("a loop is found on either channel, at any rate and block size")
{
    CHECK(mutedAfter({-50.0, 30.0, 0.0, 1000.0, -70.0, 1}));
    for (const double rate : {8000.0, 44100.0, 96000.0, 384000.0}) {
        CAPTURE(rate);
        CHECK(mutedAfter({-50.0, 30.0, 0.0, 1000.0, -70.0, 0, rate}));
    }
    CHECK(mutedAfter({-50.0, 30.0, 0.0, 1000.0, -70.0, 0, 48000.0, 8192}));
}

TEST_CASE("what rises more slowly, ends lower or is suddenly there is no loop")
{
    CHECK_FALSE(mutedAfter({-50.0, 18.0, 0.0}));
    CHECK_FALSE(mutedAfter({-50.0, 40.0, -13.0}));
    CHECK_FALSE(mutedAfter({-3.0, 0.0, -3.0}));
    CHECK_FALSE(mutedAfter({-20.0, 30.0, -6.0})); // over after less than 0.5 s
}

TEST_CASE("a loop that is at full scale before it has risen for half a second is muted within 0.3 s of clipping")
{
    for (const double noise : {-60.0, -70.0, -400.0}) // the last is digital silence
        for (const double slope : {100.0, 150.0, 250.0, 400.0})
            for (const double frequency : {250.0, 1000.0, 3157.3, 9000.0})
                for (const double begins : {0.0, 0.107, 0.12, 0.133, 0.146}) {
                    CAPTURE(noise, slope, frequency, begins);
                    const auto muted = mutedAfter({-50.0, slope, 6.0, frequency, noise, 0, 48000.0, 256, begins});
                    REQUIRE(muted);
                    const double clips_s = begins + 50.0 / slope;
                    CHECK(*muted > clips_s);
                    CHECK(*muted < clips_s + 0.3);
                }
}

TEST_CASE("a fast loop is found on either channel, at any rate and block size")
{
    CHECK(mutedAfter({-50.0, 250.0, 6.0, 1000.0, -70.0, 1}));
    for (const double rate : {8000.0, 44100.0, 96000.0, 384000.0}) {
        CAPTURE(rate);
        CHECK(mutedAfter({-50.0, 250.0, 6.0, 1000.0, -70.0, 0, rate}));
    }
    CHECK(mutedAfter({-50.0, 250.0, 6.0, 1000.0, -70.0, 0, 48000.0, 8192}));
    CHECK(mutedAfter({-50.0, 250.0, 6.0, 1000.0, -70.0, 0, 48000.0, 16}));
}

TEST_CASE("a calibrator that is pressed on the microphone and does not clip is no loop")
{
    for (const double from : {-60.0, -300.0}) // the one from the noise, the other from digital silence
        for (const double seconds : {0.1, 0.2, 0.4})
            for (const double frequency : {250.0, 1000.0})
                for (const double begins : {0.0, 0.107, 0.12, 0.133, 0.146}) {
                    CAPTURE(from, seconds, frequency, begins);
                    CHECK_FALSE(mutedAfter({-60.0, 52.0 / seconds, -8.0, frequency, from, 0, 48000.0, 256, begins}));
                }
}

TEST_CASE("a tone that is suddenly there is no loop, at full scale and clipped neither")
{
    for (const double level : {-8.0, 0.0, 6.0})
        for (const double noise : {-70.0, -300.0})
            for (const double frequency : {100.0, 1000.0, 4000.0, 12000.0})
                for (int begins_ms = 100; begins_ms < 150; begins_ms += 3) {
                    CAPTURE(level, noise, frequency, begins_ms);
                    CHECK_FALSE(mutedAfter({level, 0.0, level, frequency, noise, 0, 48000.0, 256, 1e-3 * begins_ms}));
                }
}

TEST_CASE("a knock on a calibrator that has just been pressed on is no loop")
{
    LoopGuard guard;
    guard.prepare(48000.0);
    std::vector<float> block(240);
    const float* channels[] = {block.data()};
    for (int n = 0; n < 400; ++n) {
        for (std::size_t i = 0; i < block.size(); ++i) {
            const double t = (n * 240.0 + static_cast<double>(i)) / 48000.0;
            const double sine = std::sin(2.0 * std::numbers::pi * 1000.0 * t);
            const bool knocked = t > 0.36 && t < 0.363;
            block[i] = static_cast<float>(
                knocked ? 1.0 : ratioFrom_dB(std::clamp(-60.0 + 260.0 * (t - 0.1), -60.0, -8.0)) * sine);
        }
        guard.add(channels, 1, 240);
    }
    CHECK_FALSE(guard.muted());
}

TEST_CASE("noise that rises is no line")
{
    LoopGuard guard;
    guard.prepare(48000.0);
    std::mt19937 random(1);
    std::normal_distribution<double> normal;
    std::vector<float> block(480);
    for (int n = 0; n < 200; ++n) {
        for (float& x : block)
            x = static_cast<float>(ratioFrom_dB(-50.0 + 0.4 * n) * normal(random) * 0.3);
        const float* channels[] = {block.data()};
        guard.add(channels, 1, static_cast<int>(block.size()));
    }
    CHECK_FALSE(guard.muted());
}

TEST_CASE("a mute lasts until it is lifted, and the guard then watches anew")
{
    LoopGuard guard;
    guard.prepare(48000.0);
    std::vector<float> block(2400);
    const float* channels[] = {block.data()};
    const auto play = [&](double level_dBFS) {
        for (std::size_t i = 0; i < block.size(); ++i)
            block[i] = static_cast<float>(ratioFrom_dB(level_dBFS) *
                                          std::sin(2.0 * std::numbers::pi * 1000.0 * static_cast<double>(i) / 48000.0));
        guard.add(channels, 1, static_cast<int>(block.size()));
    };
    const auto howl = [&] {
        for (int step = 0; step <= 14; ++step)
            play(-30.0 + 2.0 * step);
    };
    howl();
    REQUIRE(guard.muted());
    for (int i = 0; i < 40; ++i)
        play(-80.0);
    CHECK(guard.muted());
    guard.unmute();
    play(-80.0);
    CHECK_FALSE(guard.muted());
    howl();
    CHECK(guard.muted());
}

TEST_CASE("a loop is found beside a large constant and through noise of its own size at first")
{
    LoopGuard guard;
    guard.prepare(48000.0);
    std::mt19937 random(1);
    std::normal_distribution<double> normal;
    std::vector<float> block(480);
    const float* channels[] = {block.data()};
    double muted_s = 0.0;
    for (int n = 0; n < 300 && !guard.muted(); ++n) {
        for (std::size_t i = 0; i < block.size(); ++i) {
            const double t = (n * 480.0 + static_cast<double>(i)) / 48000.0;
            block[i] = static_cast<float>(
                0.25 + ratioFrom_dB(-40.0 + 25.0 * std::min(t, 1.5)) * std::sin(2.0 * std::numbers::pi * 1000.0 * t) +
                0.007 * normal(random));
            muted_s = t;
        }
        guard.add(channels, 1, 480);
    }
    REQUIRE(guard.muted());
    CHECK(muted_s < 28.0 / 25.0 + 0.15); // 0.15 s after it passes -12 dBFS
}

TEST_CASE("the guard watches on at a sample rate that is no number")
{
    LoopGuard guard;
    guard.prepare(std::numeric_limits<double>::quiet_NaN());
    std::vector<float> block(256);
    for (std::int64_t n = 0; n < 5 * 48000 && !guard.muted();) {
        for (float& sample : block) {
            const double t = static_cast<double>(n++) / 48000.0;
            const double sine = std::sin(2.0 * std::numbers::pi * 1000.0 * t);
            sample = static_cast<float>(ratioFrom_dB(std::min(-50.0 + 40.0 * t, 0.0)) * sine);
        }
        const float* channels[] = {block.data(), block.data()};
        guard.add(channels, 2, 256);
    }
    CHECK(guard.muted());
}
