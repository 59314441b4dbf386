// SPDX-License-Identifier: GPL-3.0-or-later
#include "WobblingTone.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

// IEC 60942:2017 Tables 2 and 4 (second-hand), 160 to 1250 Hz.
namespace {

constexpr double wobbleRight_dB = 0.001;

double fluctuationLimit_dB(int calibratorClass)
{
    return calibratorClass == 1 ? 0.07 : 0.15;
}
double frequencyLimit(int calibratorClass)
{
    return calibratorClass == 1 ? 0.007 : 0.017;
}

Wobble wobblingTone(double nominal_Hz, double sampleRate_Hz = 48000.0, double noise_dB = -80.0)
{
    Wobble w;
    w.sampleRate_Hz = sampleRate_Hz;
    w.nominal_Hz = nominal_Hz;
    w.frequency_Hz = nominal_Hz * 1.00004;
    w.noise_dB = noise_dB;
    return w;
}

// A wobble that is slow is seen for a whole period, or its mean is not known.
Wobble levelWobble(Wobble w, double fluctuation_dB, double rate_Hz)
{
    w.rate_Hz = rate_Hz;
    w.depth_dB = depthFor_dB(fluctuation_dB, rate_Hz);
    w.seconds = std::max(8.0, 1.0 / rate_Hz + 0.3);
    return w;
}

// A faster one swings by no more than class 1 permits, at 1 kHz and above 7 Hz: beyond it the tone is a band and no line.
Wobble speedWobble(Wobble w, int calibratorClass, double rate_Hz)
{
    const double fastest_Hz = w.nominal_Hz > 500.0 ? 2.0 : 7.0;
    w.speed = 0.9 * (rate_Hz > fastest_Hz ? frequencyLimit(1) : frequencyLimit(calibratorClass));
    w.speedRate_Hz = rate_Hz;
    w.seconds = 8.0;
    return w;
}

void isFit(const Wobble& w, int calibratorClass, double most_dB = wobbleRight_dB)
{
    const WobbleTold told = wobbleToldOf(w, calibratorClass);
    CAPTURE(w.nominal_Hz, w.sampleRate_Hz, w.rate_Hz, w.depth_dB, w.speed, w.speedRate_Hz, w.motor, w.motorWidth_Hz,
            w.noise_dB, calibratorClass, told.tone.whyNoLevel, told.tone.stretch_s);
    REQUIRE(told.tone.level_dBFS);
    CHECK(std::abs(told.error_dB) < most_dB);
    CHECK(told.tone.stretch_s > w.seconds - 0.6);
    CHECK(told.tone.disturbances == 0);
    CHECK_FALSE(told.tone.breaks.any());
    for (const Check& check : told.failed)
        FAIL_CHECK(check.reason);
}

void failsForItsSize(const Wobble& w, int calibratorClass, double fluctuation_dB)
{
    const WobbleTold told = wobbleToldOf(w, calibratorClass);
    CAPTURE(w.nominal_Hz, w.sampleRate_Hz, w.rate_Hz, w.depth_dB, w.noise_dB, calibratorClass, told.tone.whyNoLevel);
    REQUIRE(told.tone.level_dBFS);
    REQUIRE(told.failed.size() == 1);
    CHECK(told.failed[0].name.rfind("steady within", 0) == 0);
    CHECK(told.failed[0].value == Approx(fluctuation_dB).epsilon(0.1));
    CHECK_THAT(told.failed[0].reason, Catch::StartsWith("the level strays by"));
    CHECK(std::abs(told.error_dB) < wobbleRight_dB);
}

void besideTheLimit(const Wobble& w, int calibratorClass, double rate_Hz, double below, double above)
{
    const double limit_dB = fluctuationLimit_dB(calibratorClass);
    isFit(levelWobble(w, below * limit_dB, rate_Hz), calibratorClass);
    failsForItsSize(levelWobble(w, above * limit_dB, rate_Hz), calibratorClass, above * limit_dB);
}

} // namespace

TEST_CASE("a calibrator whose level wobbles is fit up to the limit of its class and no farther, at any rate")
{
    besideTheLimit(wobblingTone(1000.0), 1, 0.05, 0.9, 1.5);
    besideTheLimit(wobblingTone(1000.0, 44100.0), 1, 1.0, 0.9, 1.5);
    besideTheLimit(wobblingTone(1000.0, 48000.0, -40.0), 2, 2.0, 0.9, 1.5);
    besideTheLimit(wobblingTone(250.0), 1, 5.0, 0.9, 1.5);
    besideTheLimit(wobblingTone(250.0, 96000.0), 2, 3.3, 0.9, 1.5);
    besideTheLimit(wobblingTone(1000.0), 2, 10.0, 0.9, 1.5);
    besideTheLimit(wobblingTone(1000.0), 1, 20.0, 0.9, 1.5);
}

TEST_CASE("a calibrator whose speed wobbles within its class is fit, and its level right")
{
    for (const double rate_Hz : {0.5, 2.0, 5.0, 20.0})
        isFit(speedWobble(wobblingTone(1000.0), 1, rate_Hz), 1);
    for (const double rate_Hz : {1.0, 5.0, 20.0})
        isFit(speedWobble(wobblingTone(250.0), 1, rate_Hz), 1);
    isFit(speedWobble(wobblingTone(1000.0, 44100.0, -50.0), 2, 1.0), 2);
    isFit(speedWobble(wobblingTone(250.0), 2, 2.0), 2);
    Wobble slight = wobblingTone(1000.0);
    slight.speed = 5e-6;
    slight.speedRate_Hz = 0.5;
    isFit(slight, 1);
}

TEST_CASE("level and speed that wobble at once leave the level right")
{
    for (const double nominal_Hz : {250.0, 1000.0})
        for (const double rate_Hz : {0.7, 4.0})
            isFit(levelWobble(speedWobble(wobblingTone(nominal_Hz), 1, rate_Hz), 0.063, 1.3 * rate_Hz), 1);
}

TEST_CASE("a pistonphone as built is fit: slap of its piston, a motor that is never quite even, a slow drift")
{
    for (const double motor : {1e-5, 1e-4, 1e-3})
        for (const double width_Hz : {1.0, 20.0}) {
            Wobble w = wobblingTone(250.0, motor == 1e-4 ? 44100.0 : 48000.0, width_Hz > 5.0 ? -50.0 : -80.0);
            w.motor = motor;
            w.motorWidth_Hz = width_Hz;
            w.harmonics = std::pow(10.0, -45.0 / 20.0);
            w.drift_dBPerSecond = -0.002;
            isFit(w, 1);
        }
}

TEST_CASE("a frequency beyond the class is refused for its size, however it wobbles")
{
    Wobble w = speedWobble(wobblingTone(1000.0), 1, 2.0);
    w.speed = 0.003;
    w.frequency_Hz = 1010.0;
    const WobbleTold told = wobbleToldOf(w, 1);
    REQUIRE(told.failed.size() == 1);
    CHECK_THAT(told.failed[0].reason, Catch::StartsWith("the frequency is 10") && Catch::Contains("% off"));
    CHECK(std::abs(told.error_dB) < wobbleRight_dB);
}

TEST_CASE("a slip of a twentieth of a decibel ends a stretch of a steady tone")
{
    for (const double at_s : {4.0, 4.013, 4.025, 4.041}) {
        Wobble w = wobblingTone(1000.0, 48000.0, -60.0);
        w.slipAt_s = at_s;
        w.slip_dB = -0.05;
        const WobbleTold told = wobbleToldOf(w, 1);
        CAPTURE(at_s);
        CHECK(told.tone.disturbances == 1);
        CHECK(told.tone.start_s > at_s);
        CHECK(told.tone.start_s < at_s + 0.4);
        CHECK(std::abs(told.error_dB) < wobbleRight_dB);
        CHECK(*told.tone.steadiness_dB < 0.005);
    }
}

TEST_CASE("a seat that slips on and on is not taken for a wobble")
{
    for (const double every_s : {0.3, 0.7, 1.1}) {
        Wobble w = wobblingTone(1000.0, 48000.0, -60.0);
        auto samples = samplesOf(w);
        SplitMix64 seeds(9);
        Xoshiro256 random(seeds);
        double gain = 1.0;
        for (std::size_t i = 0; i < samples.size(); ++i) {
            if (i % static_cast<std::size_t>(every_s * w.sampleRate_Hz) == 0)
                gain = std::pow(10.0, -0.02 * (1.0 + static_cast<double>(random.next() >> 11) * 0x1p-53));
            samples[i] *=
                static_cast<float>(i / static_cast<std::size_t>(every_s * w.sampleRate_Hz) % 2 == 0 ? gain : 1.0);
        }
        Analyser analyser(w.sampleRate_Hz);
        StretchFinder finder;
        analyser.add(samples.data(), nullptr, static_cast<int>(samples.size()),
                     [&](const Estimate& e) { finder.add(e); });
        const auto facts = toneFacts(finder.summary());
        CAPTURE(every_s);
        CHECK((!facts || !allPass(fitnessChecks(*facts, 1, Hertz(1000.0), 5.0))));
    }
}

TEST_CASE("the map of wobbles: fit at nine tenths of the limit, not at eleven, the level right", "[.long]")
{
    for (const int calibratorClass : {1, 2})
        for (const double nominal_Hz : {250.0, 1000.0})
            for (const double sampleRate_Hz : {44100.0, 48000.0, 192000.0})
                for (const double noise_dB : {-80.0, -45.0})
                    for (const double rate_Hz : {0.05, 0.1, 0.3, 1.0, 2.0, 3.3, 5.0, 8.0, 10.0, 14.0, 20.0}) {
                        if (sampleRate_Hz > 96000.0 && noise_dB > -80.0)
                            continue;
                        besideTheLimit(wobblingTone(nominal_Hz, sampleRate_Hz, noise_dB), calibratorClass, rate_Hz, 0.9,
                                       1.1);
                    }
}

TEST_CASE("the map of speeds that wobble, alone and with the level", "[.long]")
{
    constexpr double mostWide_dB = 0.0015; // class 2's whole width at 250 Hz
    for (const int calibratorClass : {1, 2})
        for (const double nominal_Hz : {250.0, 1000.0})
            for (const double sampleRate_Hz : {44100.0, 48000.0, 192000.0})
                for (const double noise_dB : {-80.0, -50.0})
                    for (const double rate_Hz : {0.05, 0.2, 0.5, 1.0, 2.0, 4.0, 7.0, 10.0, 15.0, 20.0}) {
                        if (sampleRate_Hz > 96000.0 && noise_dB > -80.0)
                            continue;
                        const Wobble w =
                            speedWobble(wobblingTone(nominal_Hz, sampleRate_Hz, noise_dB), calibratorClass, rate_Hz);
                        isFit(w, calibratorClass, mostWide_dB);
                        if (rate_Hz >= 0.2 && rate_Hz < 5.0)
                            isFit(levelWobble(w, 0.9 * 0.07, 1.3 * rate_Hz), calibratorClass, mostWide_dB);
                    }
}
