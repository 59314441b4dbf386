// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveCalibrator.h"
#include "Bench/QuickCheck.h"
#include "Bench/ReferenceCapture.h"
#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

ReferenceSetup referencedSetup(double offset_dB = 121.97)
{
    auto setup = setupOnPaper();
    Reference last;
    last.takenAt = "2026-05-03T10:00:00Z";
    last.offset_dB = offset_dB;
    last.calibrator = setup.calibrator.name;
    setup.coupler.references = {last};
    return setup;
}

// One press while the calibrator plays, changed so.
QuickCheck pressed(const ReferenceSetup& setup, const LiveCalibrator::Change& change = {})
{
    ReferenceCapture capture;
    LiveCalibrator live([&](const Estimate& e) { capture.add(e); });
    REQUIRE(live.seat());
    live.play(4.0, [&](double x, double t) { return change ? change(x, t - 4.0) : x; });
    CaptureWish wish;
    wish.kind = CaptureKind::quickCheck;
    capture.start(setup, wish);
    double heard_s = 0.0;
    live.play(8.0, change, [&] {
        heard_s += 0.01;
        return !capture.runs();
    });
    REQUIRE_FALSE(capture.runs());
    CAPTURE(heard_s);
    CHECK(heard_s < 6.2);
    REQUIRE(capture.check());
    CHECK((capture.check()->verdict == QuickCheck::Verdict::cannotTell || heard_s < 3.3)); // one press, 3 s
    return *capture.check();
}

LiveCalibrator::Change gain(double dB)
{
    return [g = ratioFrom_dB(dB)](double x, double) { return g * x; };
}

} // namespace

TEST_CASE("a reference that holds is said to hold after three seconds")
{
    const auto check = pressed(referencedSetup());
    CHECK(check.verdict == QuickCheck::Verdict::holds);
    CHECK(*check.change_dB == Approx(0.0).margin(0.01));
    CHECK(check.causes.empty());
    CHECK(check.since == "2026-05-03T10:00:00Z");
    CHECK_THAT(check.sentence, Catch::StartsWith("holds: "));
}

TEST_CASE("a move by a gain's step is told as a gain")
{
    const double step = GENERATE(6.02, -6.02, -10.0, -20.0, -12.04);
    const auto check = pressed(referencedSetup(), gain(step));
    CAPTURE(step);
    CHECK(check.verdict == QuickCheck::Verdict::moved);
    CHECK(*check.change_dB == Approx(-step).margin(0.01));
    REQUIRE_FALSE(check.causes.empty());
    CHECK_THAT(check.causes.front(),
               Catch::StartsWith("the input's gain") && Catch::Contains(step > 0.0 ? "higher" : "lower"));
}

TEST_CASE("a tone that is somewhat lower is a seating first")
{
    const auto check = pressed(referencedSetup(), gain(-0.8));
    CHECK(check.verdict == QuickCheck::Verdict::moved);
    CHECK_THAT(check.sentence, Catch::Contains("moved by +0.80 dB"));
    REQUIRE(check.causes.size() >= 3);
    CHECK_THAT(check.causes[0], Catch::Contains("seating"));
    CHECK_THAT(check.causes[1], Catch::Contains("gain"));
    CHECK_THAT(check.causes[2], Catch::Contains("battery"));
}

TEST_CASE("a level that keeps falling points at a battery or a bias voltage")
{
    const auto check = pressed(referencedSetup(), [](double x, double t) { return x * ratioFrom_dB(-0.012 * t); });
    CHECK(check.verdict == QuickCheck::Verdict::holds); // so far
    REQUIRE_FALSE(check.causes.empty());
    CHECK_THAT(check.causes.front(), Catch::Contains("bias voltage") && Catch::Contains("the level falls by 0.0"));
}

TEST_CASE("an unsteady level cannot be told, and points at the seating")
{
    const auto check = pressed(referencedSetup(), [](double x, double t) {
        return x * ratioFrom_dB(0.12 * std::sin(2.0 * 3.14159265 * 0.7 * t));
    });
    CHECK(check.verdict == QuickCheck::Verdict::cannotTell);
    REQUIRE_FALSE(check.causes.empty());
    CHECK_THAT(check.causes.front(), Catch::Contains("seating"));
}

TEST_CASE("nothing to check against, and nothing to hear, are said")
{
    auto none = referencedSetup();
    none.coupler.references.clear();
    CHECK_THAT(pressed(none).sentence, Catch::Contains("no reference yet"));
    const auto silent = pressed(referencedSetup(), [](double, double) { return 0.0; });
    CHECK(silent.verdict == QuickCheck::Verdict::cannotTell);
    CHECK_FALSE(silent.change_dB);
}

TEST_CASE("gain steps are multiples of 6.02 dB and of 10 dB, within 0.1 dB")
{
    CHECK(*gainStepNear(6.0) == Approx(6.0206).margin(1e-4));
    CHECK(*gainStepNear(-20.05) == -20.0);
    CHECK(*gainStepNear(18.1) == Approx(18.0618).margin(1e-4));
    CHECK_FALSE(gainStepNear(0.05));
    CHECK_FALSE(gainStepNear(4.0));
    CHECK_FALSE(gainStepNear(6.2));
    CHECK_FALSE(gainStepNear(80.0));
}
