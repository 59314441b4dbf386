// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Offset.h"

#include <catch2/catch.hpp>

#include <cmath>

// What an offset takes and what it refuses, from both sides of each edge; the edges themselves are taken.

using namespace couplet;

namespace {

ReferenceInput pistonSource()
{
    ReferenceInput input;
    input.certifiedLevel_dB = 124.0;
    input.certificateU_dB = 0.1;
    input.pressureLaw = {PressureLaw::Kind::piston, 0.0};
    input.pressure = Kilopascals(100.0);
    input.tone_dBFS = -9.0;
    input.toneU_dB = 0.004;
    input.frequency = Hertz(250.0);
    return input;
}

bool takes(const ReferenceInput& input)
{
    return static_cast<bool>(offsetFrom(input));
}

} // namespace

TEST_CASE("a barometer shows 50 to 120 kPa, both edges included")
{
    auto input = pistonSource();
    for (const double good_kPa : {50.0, 101.325, 120.0}) {
        input.pressure = Kilopascals(good_kPa);
        CHECK(takes(input));
    }
    for (const double bad_kPa : {49.99, 120.01, 0.0, -101.3, 1013.0, static_cast<double>(NAN)}) {
        input.pressure = Kilopascals(bad_kPa);
        CAPTURE(bad_kPa);
        CHECK_FALSE(takes(input));
    }
    input.pressure = Kilopascals(100.0);
    input.pressureLaw = {PressureLaw::Kind::coefficient, std::nan("")};
    CHECK_FALSE(takes(input));
}

TEST_CASE("a certified level is 0 to 200 dB, both edges included")
{
    auto input = pistonSource();
    for (const double level_dB : {0.0, 94.0, 200.0}) {
        input.certifiedLevel_dB = level_dB;
        CHECK(takes(input));
    }
    for (const double level_dB : {-0.1, 200.1, static_cast<double>(NAN)}) {
        input.certifiedLevel_dB = level_dB;
        CHECK_FALSE(takes(input));
    }
}

TEST_CASE("any one judged uncertainty below 0 or no number is refused, and 0 is taken")
{
    for (const double u : {0.0, 0.3}) {
        auto input = pistonSource();
        input.judged.seating_dB = input.judged.drift_dB = u;
        input.judged.barometer = Kilopascals(u);
        CHECK(takes(input));
    }
    for (const double u : {-0.01, static_cast<double>(NAN), static_cast<double>(INFINITY)}) {
        CAPTURE(u);
        auto input = pistonSource();
        input.judged.drift_dB = u;
        CHECK_FALSE(takes(input));
        input = pistonSource();
        input.judged.barometer = Kilopascals(u);
        CHECK_FALSE(takes(input));
        input = pistonSource();
        input.toneU_dB = u;
        CHECK_FALSE(takes(input));
    }
}

TEST_CASE("a correction found half an octave away and nearer is this tone's")
{
    auto input = pistonSource();
    input.correction = Correction{};
    input.correction->U_dB = 0.2;
    for (const double near_Hz : {250.0, 180.0, 350.0}) { // 0.47 and 0.49 octaves
        input.correction->frequency = Hertz(near_Hz);
        CHECK(takes(input));
    }
    for (const double far_Hz : {174.0, 358.0, 1000.0}) { // 0.52 octaves
        input.correction->frequency = Hertz(far_Hz);
        CHECK_FALSE(takes(input));
    }
}

TEST_CASE("an offset without its correction is what a bare microphone would have had, by hand")
{
    auto input = pistonSource();
    input.correction = Correction{};
    input.correction->value_dB = 1.5;
    input.correction->U_dB = 0.4;
    const auto offset = offsetFrom(input);
    REQUIRE(offset);
    // 124 - 0.1143 (20 lg(100 / 101.325)) - 1.5 + 9
    CHECK(offset->level_dB == Approx(131.3857).margin(1e-4).epsilon(0.0));
    const auto bare = withoutCorrection(offset->addends, offset->budget, offset->level_dB);
    CHECK(bare.offset.level_dB == Approx(132.8857).margin(1e-4).epsilon(0.0));
    CHECK(bare.u_seating_dB == 0.05);
    for (const auto& term : bare.offset.budget) {
        CAPTURE(term.name);
        CHECK(term.name != "calibrator");
        CHECK(term.name != "correction");
        CHECK(term.name != "seating it again");
    }
    double variance = 0.0;
    for (const auto& term : bare.offset.budget)
        variance += term.u_dB * term.u_dB;
    CHECK(variance >= 0.02 * 0.02 + 0.004 * 0.004); // drift and reading stay, and the pressure
}
