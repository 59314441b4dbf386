// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveCalibrator.h"
#include "Bench/ReferenceCapture.h"
#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;
using namespace couplet::tests;

namespace {

// 121.97 within 0.005, as everything kept must be.
constexpr double trueOffset_dB = 121.97, near_dB = 0.005;

struct Stand
{
    ReferenceCapture capture;
    LiveCalibrator live{[this](const Estimate& e) { capture.add(e); }};

    CaptureState state() const { return capture.state(); }
    void playUntil(CaptureState wanted, double most_s, const LiveCalibrator::Change& change = {})
    {
        live.play(most_s, change, [&] { return capture.state() == wanted; });
        INFO(capture.notice());
        REQUIRE(capture.state() == wanted);
    }
    void relift()
    {
        REQUIRE(live.lift());
        live.play(2.0);
        REQUIRE(live.seat());
    }
    double offset_dB() const
    {
        REQUIRE(capture.outcome());
        REQUIRE(capture.outcome()->offset);
        return capture.outcome()->offset->level_dB;
    }
};

CaptureWish seatings(int count)
{
    CaptureWish wish;
    wish.seatings = count;
    return wish;
}

double withKnock(double x, double t, double at)
{
    const double since = t - at;
    return since < 0.0 || since > 0.2 ? x
                                      : x + 0.6 * std::exp(-since / 0.03) * std::sin(2.0 * 3.14159265 * 90.0 * since);
}

const BudgetTerm& termOf(const Figure& figure, const std::string& name)
{
    for (const auto& term : figure.budget)
        if (term.name == name)
            return term;
    FAIL("no term " << name);
    return figure.budget.front();
}

} // namespace

TEST_CASE("a click takes ten seconds of a tone that is fit, with its progress")
{
    Stand stand;
    REQUIRE(stand.live.seat());
    stand.live.play(5.0);
    CHECK(stand.state() == CaptureState::idle);
    stand.capture.start(setupOnPaper(), seatings(1));
    stand.live.play(1.0);
    CHECK(stand.state() == CaptureState::capturing); // it was steady before
    stand.live.play(4.0);
    CHECK(stand.capture.kept_s() == Approx(5.0).margin(0.2));
    CHECK(stand.capture.runs());
    stand.playUntil(CaptureState::done, 6.0);
    CHECK(stand.capture.outcome()->fitToUse);
    CHECK(stand.offset_dB() == Approx(trueOffset_dB).margin(near_dB));
    CHECK(stand.capture.outcome()->tone.stretch_s == Approx(10.0).margin(0.001));
    CHECK(stand.capture.restarts() == 0);
    CHECK(termOf(*stand.capture.outcome()->offset, "seating it again").obtained == "assumed");
}

TEST_CASE("hands-free, it begins when the calibrator's tone turns steady and not before")
{
    Stand stand;
    auto wish = seatings(1);
    wish.handsFree = true;
    stand.capture.start(setupOnPaper(), wish);
    stand.live.play(40.0); // nothing on the coupler, for longer than any patience
    CHECK(stand.state() == CaptureState::armed);
    REQUIRE(stand.live.seat());
    stand.playUntil(CaptureState::capturing, 6.0);
    stand.playUntil(CaptureState::done, 12.0);
    CHECK(stand.offset_dB() == Approx(trueOffset_dB).margin(near_dB));
}

TEST_CASE("hands-free, a steady tone that is not the calibrator of last time is left alone")
{
    Stand stand;
    auto setup = setupOnPaper();
    Reference last;
    last.takenAt = "2026-05-03T10:00:00Z";
    last.offset_dB = 121.97 - 17.8; // an earphone's tone beside it: 17.8 dB lower
    last.calibrator = setup.calibrator.name;
    setup.coupler.references = {last};
    auto wish = seatings(1);
    wish.handsFree = true;
    stand.capture.start(setup, wish);
    REQUIRE(stand.live.seat());
    stand.live.play(20.0);
    CHECK(stand.state() == CaptureState::armed);
    CHECK(stand.capture.notice().find("by hand") != std::string::npos);
    stand.capture.start(setup, seatings(1)); // by hand it is taken, and the history warns
    stand.playUntil(CaptureState::done, 20.0);
    CHECK(stand.capture.outcome()->history.withinLimits == false);
}

TEST_CASE("a knock restarts the ten seconds, says so, and does not move the offset")
{
    Stand stand;
    REQUIRE(stand.live.seat());
    stand.live.play(5.0);
    stand.capture.start(setupOnPaper(), seatings(1));
    const auto at = GENERATE(0.5, 4.03, 9.7, 10.15);
    stand.live.play(at + 1.5, [&](double x, double t) { return withKnock(x, t, at); });
    CAPTURE(at);
    CHECK(stand.state() == CaptureState::capturing);
    CHECK(stand.capture.restarts() == 1);
    CHECK(stand.capture.notice() == "A knock: the count restarts.");
    CHECK(stand.capture.kept_s() < 1.6);
    stand.live.play(8.0);
    CHECK(stand.state() == CaptureState::capturing); // not one second of before the knock counts
    stand.playUntil(CaptureState::done, 3.0);
    CHECK(stand.offset_dB() == Approx(trueOffset_dB).margin(near_dB));
}

TEST_CASE("a slip restarts the ten seconds, and only the level after it counts")
{
    Stand stand;
    REQUIRE(stand.live.seat());
    stand.live.play(5.0);
    stand.capture.start(setupOnPaper(), seatings(1));
    const double at = GENERATE(3.0, 9.8, 10.1);
    const double slipped = ratioFrom_dB(-0.15);
    stand.live.play(at + 1.2, [&](double x, double t) { return t < at ? x : slipped * x; });
    CAPTURE(at);
    REQUIRE(stand.capture.restarts() == 1);
    CHECK(stand.capture.notice() == "The level moved by \u22120.15 dB: the count restarts.");
    stand.playUntil(CaptureState::done, 14.0, [&](double x, double) { return slipped * x; });
    CHECK(stand.offset_dB() == Approx(trueOffset_dB + 0.15).margin(near_dB));
}

TEST_CASE("three seatings give their mean, and their scatter is the seating term")
{
    Stand stand;
    REQUIRE(stand.live.seat());
    stand.capture.start(setupOnPaper(), seatings(3));
    const double levels[] = {0.06, -0.02, -0.04}; // how each seating differs
    for (int n = 0; n < 3; ++n) {
        const double gain = ratioFrom_dB(levels[n]);
        stand.playUntil(n < 2 ? CaptureState::lift : CaptureState::done, 20.0,
                        [&](double x, double) { return gain * x; });
        CHECK(stand.capture.seatingsKept() == n + 1);
        if (n < 2)
            stand.relift();
    }
    CHECK(stand.offset_dB() == Approx(trueOffset_dB).margin(near_dB));
    const auto& term = termOf(*stand.capture.outcome()->offset, "seating it again");
    CHECK(term.u_dB == Approx(std::sqrt(0.0028) / std::sqrt(3.0)).margin(0.001)); // s of +0.06, -0.02, -0.04
    CHECK(term.degreesOfFreedom == 2.0);
    CHECK(term.obtained == "scatter of 3 seatings");
}

TEST_CASE("a calibrator that was not lifted gives no second seating")
{
    Stand stand;
    REQUIRE(stand.live.seat());
    stand.capture.start(setupOnPaper(), seatings(2));
    stand.playUntil(CaptureState::lift, 20.0);
    stand.live.play(30.0);
    CHECK(stand.state() == CaptureState::lift);
    CHECK(stand.capture.seatingsKept() == 1);
    stand.relift();
    stand.playUntil(CaptureState::done, 20.0);
}

TEST_CASE("the newest seating can be undone, and the capture ended with those that are kept")
{
    Stand stand;
    REQUIRE(stand.live.seat());
    stand.capture.start(setupOnPaper(), seatings(3));
    stand.playUntil(CaptureState::lift, 20.0);
    stand.relift();
    stand.playUntil(CaptureState::lift, 20.0);
    CHECK(stand.capture.seatingsKept() == 2);
    stand.capture.undoSeating();
    CHECK(stand.capture.seatingsKept() == 1);
    stand.playUntil(CaptureState::lift, 20.0); // the calibrator is still on: the second is taken anew
    CHECK(stand.capture.seatingsKept() == 2);
    stand.capture.finish();
    CHECK(stand.state() == CaptureState::done);
    CHECK(termOf(*stand.capture.outcome()->offset, "seating it again").obtained == "scatter of 2 seatings");
}

TEST_CASE("a capture that is cancelled keeps nothing")
{
    Stand stand;
    REQUIRE(stand.live.seat());
    stand.capture.start(setupOnPaper(), seatings(2));
    stand.playUntil(CaptureState::lift, 20.0);
    stand.capture.cancel();
    CHECK(stand.state() == CaptureState::cancelled);
    CHECK(stand.capture.seatingsKept() == 0);
    CHECK_FALSE(stand.capture.outcome());
    stand.relift();
    stand.live.play(20.0);
    CHECK(stand.state() == CaptureState::cancelled);
}

TEST_CASE("silence, a loose seat, another frequency and clipping are refused, each with its reason")
{
    Stand stand;
    const auto refused = [&](const LiveCalibrator::Change& change) {
        stand.capture.start(setupOnPaper(), seatings(1));
        stand.playUntil(CaptureState::refused, 30.0, change);
        CHECK_FALSE(stand.capture.outcome());
        return stand.capture.notice();
    };
    CHECK_THAT(refused({}), Catch::Contains("not a tone"));
    REQUIRE(stand.live.seat());
    stand.live.play(4.0);
    CHECK_THAT(refused([](double x, double t) { return x * ratioFrom_dB(0.056 * t); }),
               Catch::Contains("+0.05") && Catch::Contains("dB/s"));
    CHECK_THAT(refused([](double x, double) { return std::clamp(4.0 * x, -1.0, 1.0); }),
               Catch::Contains("clip") || Catch::Contains("full scale") || Catch::Contains("distortion"));
    CHECK_THAT(refused([](double, double t) { return 0.3 * std::sin(2.0 * 3.14159265358979 * 980.0 * t); }),
               Catch::Contains("frequency is 980.0 Hz"));
}

TEST_CASE("a later seating that is not fit is taken again and costs the first one nothing")
{
    Stand stand;
    REQUIRE(stand.live.seat());
    stand.capture.start(setupOnPaper(), seatings(2));
    stand.playUntil(CaptureState::lift, 20.0);
    stand.relift();
    stand.live.play(20.0, [](double x, double t) { return x * ratioFrom_dB(0.06 * t); });
    CHECK(stand.state() == CaptureState::waiting);
    CHECK(stand.capture.seatingsKept() == 1);
    CHECK_THAT(stand.capture.notice(), Catch::Contains("dB/s"));
    stand.playUntil(CaptureState::done, 30.0);
}

TEST_CASE("a stream that begins anew or loses estimates restarts the count")
{
    Stand stand;
    REQUIRE(stand.live.seat());
    stand.live.play(5.0);
    stand.capture.start(setupOnPaper(), seatings(1));
    stand.live.play(5.0);
    CHECK(stand.capture.kept_s() > 4.0);
    stand.capture.streamBegins();
    CHECK(stand.capture.kept_s() == 0.0);
    CHECK(stand.state() == CaptureState::waiting);
    CHECK(stand.capture.notice() == "The audio began anew: the count restarts.");
    stand.playUntil(CaptureState::done, 15.0);
}

TEST_CASE("the calibrator's second level is heard in three seconds and joins the next reference")
{
    Stand stand;
    auto setup = setupOnPaper();
    setup.calibrator.tones.push_back({Hertz(1000.0), 94.03, 0.15});
    setup.level_dB = 94.0;
    REQUIRE(stand.live.seat());
    const double lower = ratioFrom_dB(-19.98);
    stand.live.play(3.0, [&](double x, double) { return lower * x; });
    CaptureWish wish;
    wish.kind = CaptureKind::secondLevel;
    stand.capture.start(setup, wish);
    stand.playUntil(CaptureState::done, 6.0, [&](double x, double) { return lower * x; });
    REQUIRE(stand.capture.secondLevel());
    setup.secondLevel = stand.capture.secondLevel();
    setup.level_dB = 114.0;
    stand.capture.start(setup, seatings(1));
    stand.playUntil(CaptureState::done, 20.0);
    const auto& outcome = *stand.capture.outcome();
    REQUIRE(outcome.step);
    CHECK(outcome.step->measured_dB == Approx(19.98).margin(0.01));
    CHECK(outcome.step->certified_dB == Approx(19.99).margin(1e-9));
    CHECK(outcome.warnings.front().name == "step to 94.03 dB, 19.99");
    CHECK(outcome.warnings.front().passes);
    CHECK(termOf(*outcome.offset, "linearity").u_dB > 0.0);
}
