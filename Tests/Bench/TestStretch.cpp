// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveTone.h"
#include "Bench/StretchFinder.h"
#include "Signal/Analyser.h"
#include "Simulation/SimulatedBench.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <vector>

using namespace couplet;

namespace {

constexpr double rate = 48000.0;

// The demo's calibrator as recorded, then changed sample by sample.
std::vector<float> calibratorTake(double seconds, const std::function<double(double x, double t)>& change)
{
    SimulatedBench bench(demoScenario(), rate, 7);
    REQUIRE(bench.put({OnCoupler::What::calibrator, 0, Side::left, {}}));
    std::vector<float> take(static_cast<std::size_t>(480));
    while (!bench.settled())
        bench.render(take, {});
    take.resize(static_cast<std::size_t>(seconds * rate));
    bench.render(take, {});
    for (std::size_t i = 0; i < take.size(); ++i)
        take[i] = static_cast<float>(change(take[i], static_cast<double>(i) / rate));
    return take;
}

ToneSummary summaryOf(const std::vector<float>& take)
{
    Analyser analyser(rate);
    StretchFinder finder;
    analyser.add(take.data(), nullptr, static_cast<int>(take.size()), [&](const Estimate& e) { finder.add(e); });
    return finder.summary();
}

constexpr double truth_dBFS = 114.02 - 1.36 - 121.97;

} // namespace

TEST_CASE("an undisturbed take is one stretch with the true level")
{
    const auto s = summaryOf(calibratorTake(10.0, [](double x, double) { return x; }));
    REQUIRE(s.level_dBFS);
    CHECK(*s.level_dBFS == Approx(truth_dBFS).margin(0.003));
    CHECK(s.frequency->value == Approx(1000.04).margin(0.001));
    CHECK(s.stretch_s > 9.5);
    CHECK(s.disturbances == 0);
    CHECK(*s.steadiness_dB < 0.02);
    CHECK(*s.distortion_percent == Approx(0.42).margin(0.01));
}

TEST_CASE("a knock ends a stretch and does not move the level")
{
    const auto s = summaryOf(calibratorTake(12.0, [](double x, double t) {
        const double since = t - 4.0;
        return since < 0.0 ? x : x + 0.5 * std::exp(-since / 0.02) * std::sin(2.0 * pi * 60.0 * since);
    }));
    REQUIRE(s.level_dBFS);
    CHECK(*s.level_dBFS == Approx(truth_dBFS).margin(0.003));
    CHECK(s.disturbances >= 1);
    CHECK(s.stretch_s > 6.0);
    CHECK(s.stretch_s < 8.0);
    CHECK(s.start_s > 4.0);
}

TEST_CASE("a seat that slips by a tenth of a decibel ends a stretch")
{
    const auto s = summaryOf(
        calibratorTake(12.0, [](double x, double t) { return t < 4.0 ? x : x * std::pow(10.0, -0.1 / 20.0); }));
    REQUIRE(s.level_dBFS);
    CHECK(*s.level_dBFS == Approx(truth_dBFS - 0.1).margin(0.003));
    CHECK(s.start_s > 3.9);
    CHECK(*s.steadiness_dB < 0.02);
}

TEST_CASE("an even drift does not end a stretch and shows as its slope")
{
    const auto s =
        summaryOf(calibratorTake(10.0, [](double x, double t) { return x * std::pow(10.0, 0.05 * t / 20.0); }));
    CHECK(s.disturbances == 0);
    CHECK(s.slope_dBPerSecond == Approx(0.05).margin(0.001));
    CHECK(*s.steadiness_dB > 0.2);
}

TEST_CASE("clipped samples are counted and headroom is gone")
{
    const auto s = summaryOf(calibratorTake(3.0, [](double x, double) { return std::clamp(4.0 * x, -1.0, 1.0); }));
    CHECK(s.clippedSamples > 1000);
    CHECK(*s.headroom_dB == 0.0);
}

TEST_CASE("too short a take has no level and says why")
{
    const auto s = summaryOf(std::vector<float>(100, 0.0f));
    CHECK_FALSE(s.level_dBFS);
    CHECK_THAT(s.whyNoLevel, Catch::Contains("too short"));
}

TEST_CASE("silence has no level and says why")
{
    const auto s = summaryOf(std::vector<float>(96000, 0.0f));
    CHECK_FALSE(s.level_dBFS);
    CHECK_THAT(s.whyNoLevel, Catch::Contains("no tone"));
    CHECK_FALSE(s.noise_dBFS);
    CHECK_FALSE(s.dc_dBFS);
}

TEST_CASE("a take does not become too short when its levels are reset")
{
    Analyser analyser(rate);
    StretchFinder finder;
    const std::vector<float> second(48000, 0.0f);
    for (const int samples : {48000, 19200}) {
        analyser.restartLevels();
        analyser.add(second.data(), nullptr, samples, [&](const Estimate& e) { finder.add(e); });
    }
    CHECK(finder.summary().duration_s == Approx(1.4));
    CHECK_THAT(finder.summary().whyNoLevel, Catch::Contains("no tone"));
}

TEST_CASE("the live tone follows a change of level within its window")
{
    const auto take =
        calibratorTake(8.0, [](double x, double t) { return t < 4.0 ? x : x * std::pow(10.0, -6.0 / 20.0); });
    Analyser analyser(rate);
    LiveTone live;
    std::vector<std::pair<double, double>> seen; // time, level
    analyser.add(take.data(), nullptr, static_cast<int>(take.size()), [&](const Estimate& e) {
        live.add(e);
        if (const auto s = live.summary(); s.level_dBFS)
            seen.push_back({static_cast<double>(e.hop) * e.hop_s, *s.level_dBFS});
    });
    REQUIRE(seen.size() > 100);
    CHECK(seen.front().first < 1.0); // the first number within a second of audio
    for (const auto& [t, level] : seen) {
        if (t > 0.5 && t < 4.0)
            CHECK(level == Approx(truth_dBFS).margin(0.02));
        if (t > 5.2)
            CHECK(level == Approx(truth_dBFS - 6.0).margin(0.02));
    }
}
