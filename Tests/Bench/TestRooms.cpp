// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveCalibrator.h"
#include "Bench/Reading.h"
#include "Bench/ReadingJson.h"
#include "Bench/Takes.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

// What does not harm the level of the stretch that is used is no reason to refuse a take.
using namespace couplet;
using namespace couplet::tests;

namespace {

Outcome<ReferenceOutcome> referenceOf(const Samples& take)
{
    return takeReference(heardIn(take), setupOnPaper());
}

bool says(const std::vector<std::string>& notes, const std::string& words)
{
    return std::any_of(notes.begin(), notes.end(), [&](const auto& n) { return n.find(words) != std::string::npos; });
}

// Bursts of 0.2 s of 310 Hz and its double, with 0.2 s between them: their RMS, in dB below the tone's.
Samples withBursts(double below_dB)
{
    const double size = ratioOf(-below_dB) * toneAmplitude / std::sqrt(2.0);
    return toneWith(9.0, [=](double x, double t) {
        const double burst = std::sin(2.0 * pi * 310.0 * t) + std::sin(2.0 * pi * 620.0 * t + 1.0);
        return x + (std::fmod(t, 0.4) < 0.2 ? size * burst : 0.0);
    });
}

} // namespace

TEST_CASE("bursts of sound that cannot move the level end no stretch, others do")
{
    for (const double below_dB : {60.0, 50.0, 42.0}) {
        const auto summary = heardIn(withBursts(below_dB));
        CAPTURE(below_dB);
        CHECK(summary.disturbances == 0);
        CHECK(summary.stretch_s > 8.0);
        CHECK(*summary.level_dBFS == Approx(-20.0).margin(0.001));
        CHECK(referenceOf(withBursts(below_dB))->fitToUse);
    }
    CHECK(heardIn(withBursts(30.0)).stretch_s < 1.0);
}

TEST_CASE("samples clipped outside the stretch that is used are told with their time and refuse nothing")
{
    const auto loud = [](double x, double t) {
        return t < 0.8 ? std::clamp(3.0 * std::sin(2.0 * pi * 210.0 * t), -1.0, 1.0) : t < 1.4 ? 0.0 : x;
    };
    const auto outcome = referenceOf(toneWith(9.0, loud));
    CHECK(outcome->fitToUse);
    CHECK(outcome->tone.clippedSamples == 0);
    CHECK(*outcome->tone.headroom_dB == Approx(20.0).margin(0.05));
    CHECK(says(outcome->notes, "samples were clipped outside the stretch that was used, the first at 0.0 s"));
    const auto later = referenceOf(toneWith(9.0, [](double x, double t) {
        return t > 8.5 && t < 8.83 ? std::clamp(3.0 * std::sin(2.0 * pi * 210.0 * t), -1.0, 1.0) : x;
    }));
    CHECK(later->fitToUse);
    CHECK(says(later->notes, "samples were clipped outside the stretch that was used, the last at 8.8 s"));
}

TEST_CASE("samples clipped within the stretch that is used still leave no verdict and no reference")
{
    Samples take = toneWith(9.0, [](double x, double) { return 11.0 * x; });
    for (float& x : take)
        x = std::clamp(x, -1.0f, 1.0f);
    const auto outcome = referenceOf(take);
    CHECK_FALSE(outcome->fitToUse);
    CHECK(outcome->tone.clippedSamples > 1000);
    CHECK(outcome->tone.clippedElsewhere == 0);
    CHECK_FALSE(makeReading(heardIn(take), Setup{}).verdict);
}

TEST_CASE("a contact that is right for a twelfth of the take, shortly each time, is told with its size")
{
    const auto seldom = [](double x, double t) { return std::fmod(t, 2.9) < 0.24 ? x : x * ratioOf(-1.0); };
    const auto outcome = referenceOf(toneWith(12.0, seldom));
    CHECK_FALSE(outcome->fitToUse);
    for (const auto& note : outcome->notes)
        UNSCOPED_INFO(note);
    CHECK(says(outcome->notes, "the tone stood 1.00 dB above the level that was used 5 times, for 7 % of the time"));
    // A level that goes up and down evenly stands at no second value.
    const auto even = [](double x, double t) { return x * ratioOf(0.2 * std::sin(2.0 * pi * 4.0 * t)); };
    CHECK_FALSE(says(referenceOf(toneWith(12.0, even))->notes, "stood"));
    // Nor does one that was nudged up once.
    const auto once = [](double x, double t) { return t > 6.0 && t < 6.2 ? x * ratioOf(1.0) : x; };
    CHECK_FALSE(says(referenceOf(toneWith(14.0, once))->notes, "stood"));
}

TEST_CASE("another tone in the take is told with its frequency and time")
{
    const auto two = [](double x, double t) {
        return t < 6.0 ? x : t < 6.5 ? 0.0 : 0.8 * toneAmplitude * std::sin(2.0 * pi * 1500.0 * t);
    };
    const auto outcome = referenceOf(toneWith(12.0, two));
    CHECK_FALSE(outcome->fitToUse);
    CHECK(says(outcome->notes, "the take holds another tone as well, at 1500.00 Hz for 5."));
    const auto shortly = [](double x, double t) {
        return t < 9.0 ? x : t < 9.5 ? 0.0 : 0.8 * toneAmplitude * std::sin(2.0 * pi * 1500.0 * t);
    };
    CHECK(referenceOf(toneWith(12.0, shortly))->fitToUse);
}

TEST_CASE("a third harmonic that a gain which depends on level would make enters U while linearity is unchecked")
{
    // x + a x^3 of a sine of 1: its third harmonic is a / 4 over 1 + 3 a / 4 of the fundamental.
    const auto cubic = [](double a) {
        return toneWith(9.0, [a](double x, double) {
            const double r = x / toneAmplitude;
            return toneAmplitude * (r + a * r * r * r);
        });
    };
    const auto plain = referenceOf(toneWith(9.0, [](double x, double) { return x; }));
    for (const double a : {-0.06, 0.06}) {
        const auto outcome = referenceOf(cubic(a));
        const double moved_dB = *outcome->tone.level_dBFS + 20.0, third = 0.25 * a / (1.0 + 0.75 * a);
        CAPTURE(a);
        CHECK(moved_dB == Approx(20.0 * std::log10(1.0 + 0.75 * a)).margin(0.003));
        CHECK(outcome->tone.thirdInPhase == Approx(third).margin(1e-4));
        CHECK(outcome->expanded->U_dB > std::abs(moved_dB));
        CHECK(
            says(outcome->notes, a < 0.0 ? "a limiter that flattens peaks" : "a gain that is less for small signals"));
        ReferenceSetup checked = setupOnPaper();
        checked.coupler.judged.linearity_dB = 0.03;
        CHECK(takeReference(heardIn(cubic(a)), checked)->expanded->U_dB == Approx(plain->expanded->U_dB).margin(0.01));
    }
    // A source's own, a quarter turn from there.
    const auto own = referenceOf(toneWith(9.0, [](double x, double t) {
        return x + 0.02 * toneAmplitude * std::sin(3.0 * (2.0 * pi * 1000.04 * t + test::Truth{}.phase));
    }));
    CAPTURE(own->tone.thirdInPhase);
    CHECK(own->expanded->U_dB == Approx(plain->expanded->U_dB).margin(0.02));
}

TEST_CASE("a take of a little more than five seconds is long enough for a reference, one of less is not")
{
    const auto plain = [](double x, double) { return x; };
    CHECK(referenceOf(toneWith(5.1, plain))->fitToUse);
    CHECK(referenceOf(toneWith(8.0, [](double x, double t) { return t > 1.5 && t < 6.65 ? x : 0.0; }))->fitToUse);
    CHECK_FALSE(referenceOf(toneWith(4.8, plain))->fitToUse);
    // After a knock nothing is taken for granted.
    const auto knocked = [](double x, double t) {
        return x + (t < 2.0 || t > 2.1 ? 0.0 : 0.03 * std::sin(2.0 * pi * 100.0 * t));
    };
    CHECK_FALSE(referenceOf(toneWith(7.1, knocked))->fitToUse);
}

TEST_CASE("the noise beside the tone has the A-weighted level that the published weightings give it")
{
    // White noise of 0.001 beside the tone: its third-octave bands up to 20 kHz, each with its weighting.
    constexpr double density = 0.001 * 0.001 / (0.5 * takeRate_Hz);
    double power = 0.0;
    for (const auto& row : published::table("iec61672_1_2013_table3_weightings").rows) {
        const double middle_Hz = row.number("exact_hz"), edge = std::pow(10.0, 0.05);
        const double width_Hz = std::min(middle_Hz * edge, 20000.0) - middle_Hz / edge;
        power += density * width_Hz * std::pow(10.0, row.number("A_db") / 10.0);
    }
    SplitMix64 seeds(5);
    Xoshiro256 random(seeds);
    const auto summary = heardIn(toneWith(12.0, [&](double x, double) { return x + 0.001 * random.nextNormal(); }));
    const double expected_dBFS = 10.0 * std::log10(2.0 * power);
    REQUIRE(summary.noiseA_dBFS);
    CHECK(*summary.noiseA_dBFS == Approx(expected_dBFS).margin(0.15));
    for (const auto& [name, value] : jsonOf(summary))
        if (name == "noise_a_dbfs") {
            REQUIRE(value.as<double>() != nullptr);
            CHECK(*value.as<double>() == Approx(*summary.noiseA_dBFS).margin(1e-6));
        }
    CHECK(*summary.noise_dBFS - *summary.noiseA_dBFS > 1.0); // the take's own noise and rounding aside
}
