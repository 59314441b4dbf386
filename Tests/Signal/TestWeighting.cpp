// SPDX-License-Identifier: GPL-3.0-or-later
#include "Published/Table.h"
#include "Signal/Sizes.h"
#include "Signal/Weighting.h"
#include "Speed/TargetCheck.h"
#include "Stream.h"
#include "Weighed.h"

#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

// Published figures: IEC 61672-1:2013 Table 3, second-hand; the source's line is in the table.
using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rates_Hz[] = {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0};

} // namespace

TEST_CASE("the design goals of weightings A and C are those of IEC 61672-1 Table 3")
{
    for (const auto& row : published::table("iec61672_1_2013_table3_weightings").rows) {
        const double f = row.number("exact_hz");
        CAPTURE(f);
        CHECK(weightingA_dB(f) == Approx(row.number("A_exact_db")).margin(1e-6));
        CHECK(weightingC_dB(f) == Approx(row.number("C_exact_db")).margin(1e-6));
        // The printed values, to their last digit.
        CHECK(std::abs(weightingA_dB(f) - row.number("A_db")) < 0.0501);
        CHECK(std::abs(weightingC_dB(f) - row.number("C_db")) < 0.0501);
    }
}

TEST_CASE("weightings A and C are within 0.1 dB to 16 kHz and within class 1 at 20 kHz at every rate", "[target]")
{
    double worst_dB = 0.0, highest_dB = 0.0;
    for (const double rate_Hz : rates_Hz) {
        const WeightingDesign design = designWeighting(rate_Hz);
        for (const auto& row : published::table("iec61672_1_2013_table3_weightings").rows) {
            const double f = row.number("exact_hz"), w = 2.0 * pi * f / rate_Hz;
            const double a = decibels(design.gainA(w)) - row.number("A_exact_db");
            const double c = decibels(design.gainC(w)) - row.number("C_exact_db");
            CAPTURE(rate_Hz, f);
            for (const double error : {a, c}) {
                CHECK(error < row.number("class1_upper_db"));
                CHECK(error > row.number("class1_lower_db"));
                double& most_dB = f < 16000.0 ? worst_dB : highest_dB;
                most_dB = targets::larger(most_dB, std::abs(error));
            }
        }
    }
    targets::hold(targets::weighting, worst_dB);
    targets::hold(targets::classOne, highest_dB);
}

TEST_CASE("between the midbands the weightings do not leave the curve either")
{
    for (const double rate_Hz : rates_Hz) {
        const WeightingDesign design = designWeighting(rate_Hz);
        for (double f = 10.0; f < 16000.0; f *= 1.02) {
            const double w = 2.0 * pi * f / rate_Hz;
            CAPTURE(rate_Hz, f);
            CHECK(std::abs(decibels(design.gainA(w)) - weightingA_dB(f)) < targets::weighting.limit);
            CHECK(std::abs(decibels(design.gainC(w)) - weightingC_dB(f)) < targets::weighting.limit);
        }
    }
}

TEST_CASE("weighting filters are stable at every rate from 8 to 384 kHz")
{
    for (double rate_Hz = lowestRate_Hz; rate_Hz <= highestRate_Hz; rate_Hz *= 1.15) {
        const WeightingDesign design = designWeighting(rate_Hz);
        for (const BiquadCoefficients& c : {design.lowPair, design.highPair, design.middlePair}) {
            CAPTURE(rate_Hz, c.a1, c.a2);
            CHECK(std::abs(c.a2) < 1.0);
            CHECK(std::abs(c.a1) < 1.0 + c.a2);
        }
    }
}

TEST_CASE("a steady sine's levels are its own less the weighting, by F, S and energy alike")
{
    for (const double tone_Hz : {31.5, 1000.0, 12500.0}) {
        Truth truth;
        truth.tone_Hz = tone_Hz;
        Stream stream(truth);
        Weighed meter(truth.sampleRate_Hz);
        meter.feed(stream.seconds(3.0));
        const double before_A = meter[A].energy, before_Z = meter[Z].energy;
        meter.feed(stream.seconds(8.0)); // after eleven time constants of S
        const double sine_dB = decibels(truth.amplitude * std::sqrt(0.5));
        const double a_dB = sine_dB + weightingA_dB(tone_Hz), c_dB = sine_dB + weightingC_dB(tone_Hz);
        CAPTURE(tone_Hz);
        CHECK(decibelsOfPower(meter[A].slow) == Approx(a_dB).margin(0.05));
        CHECK(decibelsOfPower(meter[A].fast) == Approx(a_dB).margin(0.06));
        CHECK(decibelsOfPower(meter[C].slow) == Approx(c_dB).margin(0.05));
        CHECK(decibelsOfPower(meter[Z].slow) == Approx(sine_dB).margin(0.01));
        CHECK(decibelsOfPower((meter[A].energy - before_A) / 8.0) == Approx(a_dB).margin(0.05));
        CHECK(decibelsOfPower((meter[Z].energy - before_Z) / 8.0) == Approx(sine_dB).margin(0.01));
    }
}

TEST_CASE("a constant is no sound, whatever the weighting")
{
    Weighed meter(48000.0);
    meter.feed(std::vector<float>(10 * 48000, 0.5f));
    for (const BroadbandLevels& levels : meter.levels())
        CHECK(decibelsOfPower(levels.fast) < -100.0);
}

TEST_CASE("minima are not told before five time constants have passed")
{
    Weighed meter(48000.0);
    Stream stream(Truth{});
    meter.feed(stream.seconds(0.6));
    CHECK_FALSE(meter[A].fastMin);
    meter.feed(stream.seconds(0.1));
    CHECK(meter[A].fastMin);
    CHECK_FALSE(meter[A].slowMin);
    meter.feed(stream.seconds(4.4));
    REQUIRE(meter[A].slowMin);
    CHECK(decibelsOfPower(*meter[A].slowMin / meter[A].slowMax) > -0.05);
}
