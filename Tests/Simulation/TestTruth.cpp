// SPDX-License-Identifier: GPL-3.0-or-later
#include "Simulation/BenchTake.h"
#include "Simulation/Projection.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace couplet;
using namespace couplet::test;

namespace {

const Scenario scenario = demoScenario();

// The scenario's own figures, written down a second time.
constexpr double trueLeft_dBSPL[] = {94.82, 92.26, 98.35, 93.97};
constexpr double trueRight_dBSPL[] = {94.70, 92.47, 98.17, 94.13};

double microphoneLevel_dBSPL(const Take& take, Hertz frequency)
{
    return levelAt_dBFS(take.microphone, frequency.value, rate_Hz) + 121.97;
}

double distortion_percent(const Take& take, Hertz frequency)
{
    const double second = amplitudeAt(take.microphone, 2 * frequency.value, rate_Hz);
    const double third = amplitudeAt(take.microphone, 3 * frequency.value, rate_Hz);
    return 100.0 * std::hypot(second, third) / amplitudeAt(take.microphone, frequency.value, rate_Hz);
}

} // namespace

TEST_CASE("the calibrator stands at its certified level less the correction")
{
    const auto take = settledTake(scenario, calibratorOn(), 10.0);
    CHECK(microphoneLevel_dBSPL(take, Hertz(1000.04)) == Approx(112.66).margin(1e-3));
    CHECK(distortion_percent(take, Hertz(1000.04)) == Approx(0.42).margin(2e-3));
}

TEST_CASE("each side of each earphone stands at its true level")
{
    for (std::size_t index = 0; index < scenario.earphones.size(); ++index) {
        const auto frequency = scenario.earphones[index].frequency;
        CAPTURE(index);
        const auto left = settledTake(scenario, earphoneOn(index, Side::left), 10.0);
        CHECK(microphoneLevel_dBSPL(left, frequency) == Approx(trueLeft_dBSPL[index]).margin(1e-3));
        const auto right = settledTake(scenario, earphoneOn(index, Side::right), 10.0);
        CHECK(microphoneLevel_dBSPL(right, frequency) == Approx(trueRight_dBSPL[index]).margin(1e-3));
    }
}

TEST_CASE("a tone's frequency is the one stated, not its nominal")
{
    const auto take = settledTake(scenario, earphoneOn(3), 10.0);
    const auto half = take.microphone.size() / 2;
    const std::span all(take.microphone);
    const auto early = projection(all.first(half), 500.0, rate_Hz);
    const auto late = projection(all.last(half), 500.0, rate_Hz);
    // Both halves are whole periods of 500 Hz, so the turn between them is that of the excess frequency in 5
    // s.
    const double excess_Hz = std::arg(late / early) / (2.0 * std::numbers::pi * 5.0);
    CHECK(excess_Hz == Approx(0.01).margin(1e-5));
}

TEST_CASE("the second channel carries the drive in volts RMS of a full-scale sine")
{
    const auto stated = settledTake(scenario, earphoneOn(3), 5.0);
    CHECK(2.0 * amplitudeAt(stated.drive, 500.01, rate_Hz) == Approx(0.1232).epsilon(1e-4));
    const auto chosen = settledTake(scenario, earphoneOn(3, Side::left, Volts(0.0616)), 5.0);
    CHECK(2.0 * amplitudeAt(chosen.drive, 500.01, rate_Hz) == Approx(0.0616).epsilon(1e-4));
    const auto calibrator = settledTake(scenario, calibratorOn(), 1.0);
    CHECK(amplitudeAt(calibrator.drive, 1000.04, rate_Hz) < 1e-6);
}

TEST_CASE("half the drive is 6.02 dB less pressure")
{
    const auto full = settledTake(scenario, earphoneOn(0), 10.0);
    const auto half = settledTake(scenario, earphoneOn(0, Side::left, Volts(0.0312)), 10.0);
    const Hertz frequency(1000.02);
    CHECK(microphoneLevel_dBSPL(full, frequency) - microphoneLevel_dBSPL(half, frequency) ==
          Approx(6.0206).margin(1e-3));
    CHECK(*trueLevel_dBSPL(scenario, earphoneOn(0, Side::left, Volts(0.0312))) == Approx(94.82 - 6.0206).margin(1e-4));
}

TEST_CASE("an earphone is as pure as stated")
{
    CHECK(distortion_percent(settledTake(scenario, earphoneOn(2), 10.0), Hertz(500.01)) == Approx(0.08).margin(2e-3));
}

TEST_CASE("the seat wanders, within a hundredth of a decibel")
{
    const auto take = settledTake(scenario, calibratorOn(), 10.0);
    std::vector<double> levels_dB;
    const auto stretch = samplesOf(0.125);
    for (std::size_t at = 0; at + stretch <= take.microphone.size(); at += stretch) {
        const std::span part(take.microphone.data() + at, stretch);
        levels_dB.push_back(levelAt_dBFS(part, 1000.04, rate_Hz) + 121.97 - 112.66);
    }
    const auto [low, high] = std::minmax_element(levels_dB.begin(), levels_dB.end());
    // 0.002 dB for noise, hum and the tone's fraction of a period in 125 ms.
    CHECK(*low > -0.012);
    CHECK(*high < 0.012);
    CHECK(*high - *low > 0.01);
}

TEST_CASE("the truth holds at every rate an interface has")
{
    for (const double otherRate_Hz : {8000.0, 44100.0, 192000.0}) {
        CAPTURE(otherRate_Hz);
        const auto take = settledTake(scenario, earphoneOn(1), 10.0, otherRate_Hz);
        CHECK(levelAt_dBFS(take.microphone, 1000.02, otherRate_Hz) + 121.97 == Approx(92.26).margin(1e-3));
    }
}

TEST_CASE("nothing on the coupler has no level, nor has an earphone that is not there or not driven")
{
    CHECK_FALSE(trueLevel_dBSPL(scenario, {}));
    CHECK_FALSE(trueLevel_dBSPL(scenario, earphoneOn(4)));
    CHECK_FALSE(trueLevel_dBSPL(scenario, earphoneOn(0, Side::left, Volts(0.0))));
}
