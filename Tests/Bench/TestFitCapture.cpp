// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitCapture.h"
#include "Bench/LiveCalibrator.h"
#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <vector>

using namespace couplet;
using namespace couplet::tests;

namespace {

constexpr double near_dB = 0.015; // the simulated seat wanders by 0.01 dB

struct Bench
{
    FitCapture capture;
    std::vector<ToneSummary> kept;
    LiveCalibrator live{[this](const Estimate& e) { hear(e); }};

    void hear(const Estimate& e)
    {
        capture.add(e);
        if (const auto tone = capture.taken())
            kept.push_back(*tone);
    }
    bool playUntil(FitCaptureState wanted, double most_s, const LiveCalibrator::Change& change = {})
    {
        live.play(most_s, change, [&] { return capture.state() == wanted; });
        INFO(capture.notice());
        CHECK(capture.state() == wanted);
        return capture.state() == wanted;
    }
    void lift()
    {
        REQUIRE(live.lift());
        live.play(1.5);
    }
};

LiveCalibrator::Change louder(double dB)
{
    return [gain = ratioFrom_dB(dB)](double x, double) { return gain * x; };
}

double withKnock(double x, double t, double at)
{
    const double since = t - at;
    return since < 0.0 || since > 0.2 ? x
                                      : x + 0.6 * std::exp(-since / 0.03) * std::sin(2.0 * 3.14159265 * 90.0 * since);
}

} // namespace

TEST_CASE("readings of several fittings are captured with nothing but lifting between them")
{
    Bench bench;
    bench.capture.start(true);
    bench.live.play(10.0); // nothing sounds yet
    CHECK(bench.capture.state() == FitCaptureState::waiting);
    CHECK_FALSE(bench.capture.notice().empty());
    const double levels_dB[] = {0.4, -0.1, 0.9};
    for (std::size_t n = 0; n < 3; ++n) {
        REQUIRE(bench.live.seat());
        CHECK(bench.playUntil(FitCaptureState::lift, 8.0, louder(levels_dB[n])));
        REQUIRE(bench.kept.size() == n + 1);
        CHECK(*bench.kept[n].level_dBFS == Approx(calibratorTruth_dBFS + levels_dB[n]).margin(near_dB));
        CHECK(bench.kept[n].frequency->value == Approx(1000.0).margin(5.0));
        bench.lift();
        CHECK(bench.capture.state() == FitCaptureState::waiting);
    }
}

TEST_CASE("a fitting that is not lifted is read once, and a knock lifts nothing")
{
    Bench bench;
    bench.capture.start(true);
    REQUIRE(bench.live.seat());
    CHECK(bench.playUntil(FitCaptureState::lift, 8.0));
    bench.live.play(10.0);
    bench.live.play(5.0, [](double x, double t) { return withKnock(x, t, 1.0); });
    bench.live.play(5.0, louder(-1.5)); // pressed anew
    CHECK(bench.capture.state() == FitCaptureState::lift);
    CHECK(bench.kept.size() == 1);
}

TEST_CASE("two seconds are waited and two averaged, with their progress")
{
    Bench bench;
    bench.capture.start(true);
    REQUIRE(bench.live.seat());
    CHECK(bench.playUntil(FitCaptureState::reading, 4.0));
    CHECK(bench.capture.progress() == Approx(0.0).margin(0.05));
    bench.live.play(1.2);
    CHECK(bench.capture.state() == FitCaptureState::reading);
    CHECK(bench.capture.progress() > 0.4);
    CHECK(bench.capture.progress() < 0.8);
    CHECK(bench.playUntil(FitCaptureState::lift, 2.0));
    CHECK(bench.kept.front().stretch_s == Approx(2.0).margin(0.06));
    CHECK(bench.capture.progress() == 0.0);
}

TEST_CASE("a knock restarts a reading, says so, and does not move it")
{
    Bench bench;
    REQUIRE(bench.live.seat());
    bench.live.play(4.0);
    bench.capture.start(true);
    const double at = GENERATE(0.7, 1.5, 2.1);
    CAPTURE(at);
    bench.live.play(at + 0.5, [&](double x, double t) { return withKnock(x, t, at); });
    CHECK(bench.capture.state() == FitCaptureState::waiting);
    CHECK(bench.capture.notice() == "A knock or a slip: the reading restarts.");
    CHECK(bench.kept.empty());
    CHECK(bench.playUntil(FitCaptureState::lift, 7.0));
    REQUIRE(bench.kept.size() == 1);
    CHECK(*bench.kept[0].level_dBFS == Approx(calibratorTruth_dBFS).margin(near_dB));
}

TEST_CASE("after a slip only the level behind it is read")
{
    Bench bench;
    REQUIRE(bench.live.seat());
    bench.live.play(4.0);
    bench.capture.start(true);
    const double at = GENERATE(0.8, 1.9, 2.1);
    CAPTURE(at);
    const double slipped = ratioFrom_dB(-0.3);
    bench.live.play(at + 0.6, [&](double x, double t) { return t < at ? x : slipped * x; });
    CHECK(bench.capture.state() == FitCaptureState::waiting);
    CHECK(bench.kept.empty());
    CHECK(bench.playUntil(FitCaptureState::lift, 8.0, louder(-0.3)));
    REQUIRE(bench.kept.size() == 1);
    CHECK(*bench.kept[0].level_dBFS == Approx(calibratorTruth_dBFS - 0.3).margin(near_dB));
}

TEST_CASE("noise, silence and speech-like sound are never a reading")
{
    Bench bench;
    bench.capture.start(true);
    std::mt19937 random(7);
    std::normal_distribution<double> normal(0.0, 0.2);
    bench.live.play(20.0, [&](double, double) { return std::clamp(normal(random), -0.9, 0.9); });
    bench.live.play(10.0, [](double, double) { return 0.0; });
    bench.live.play(20.0, [&](double, double t) { // a tone that never stays, under noise that comes and goes
        const double breath = 0.5 + 0.5 * std::sin(2.0 * 3.14159265 * 2.3 * t);
        return 0.3 * breath * std::sin(2.0 * 3.14159265 * (200.0 * t + 20.0 * std::sin(3.0 * t))) +
               0.05 * breath * normal(random);
    });
    CHECK(bench.kept.empty());
    CHECK(bench.capture.state() == FitCaptureState::waiting);
}

TEST_CASE("a tone that creeps, strays, is clipped or drowns is not read, each with its sentence")
{
    Bench bench;
    bench.capture.start(true);
    REQUIRE(bench.live.seat());
    // All that was said meanwhile.
    const auto refused = [&](const LiveCalibrator::Change& change) {
        std::string said;
        bench.live.play(8.0, change, [&] {
            if (!said.ends_with(bench.capture.notice()))
                said += " " + bench.capture.notice();
            return false;
        });
        CHECK(bench.kept.empty());
        return said;
    };
    CHECK_THAT(refused([](double x, double t) { return x * ratioFrom_dB(-0.2 * t); }), Catch::Contains("creeps"));
    CHECK_THAT(
        refused([](double x, double t) { return x * ratioFrom_dB(0.15 * std::sin(2.0 * 3.14159265 * 0.15 * t)); }),
        Catch::Contains("strays") || Catch::Contains("creeps"));
    CHECK_THAT(refused([](double x, double) { return std::clamp(4.0 * x, -1.0, 1.0); }), Catch::Contains("clipped"));
    std::mt19937 random(9);
    std::normal_distribution<double> normal(0.0, 0.02);
    CHECK_THAT(refused([&](double x, double) { return x + normal(random); }),
               Catch::Contains("above the noise") || Catch::Contains("not a tone"));
}

TEST_CASE("an earphone's tone has to be steadier than a calibrator's")
{
    const auto swinging = [](double x, double t) {
        return x * ratioFrom_dB(0.055 * std::sin(2.0 * 3.14159265 * 0.4 * t));
    };
    Bench bench;
    bench.capture.allowStraying(0.05);
    bench.capture.start(true);
    REQUIRE(bench.live.seat());
    bench.live.play(8.0, swinging);
    CHECK(bench.kept.empty());
    bench.capture.allowStraying(0.15);
    bench.live.play(8.0, swinging);
    CHECK(bench.kept.size() == 1);
}

TEST_CASE("by hand a steady tone is read at once, and once")
{
    Bench bench;
    REQUIRE(bench.live.seat());
    bench.live.play(5.0);
    bench.capture.start(false);
    bench.live.play(0.2);
    CHECK(bench.capture.state() == FitCaptureState::reading); // it was steady before
    CHECK(bench.playUntil(FitCaptureState::off, 4.0));
    CHECK(bench.kept.size() == 1);
    bench.lift();
    REQUIRE(bench.live.seat());
    bench.live.play(8.0);
    CHECK(bench.kept.size() == 1);
}

TEST_CASE("audio that begins anew restarts a reading and lifts nothing")
{
    Bench bench;
    bench.capture.start(true);
    REQUIRE(bench.live.seat());
    CHECK(bench.playUntil(FitCaptureState::reading, 5.0));
    bench.capture.streamBegins();
    CHECK(bench.capture.state() == FitCaptureState::waiting);
    CHECK(bench.capture.notice() == "The audio began anew: the reading restarts.");
    CHECK(bench.playUntil(FitCaptureState::lift, 8.0));
    bench.capture.streamBegins();
    CHECK(bench.capture.state() == FitCaptureState::lift);
    bench.capture.cancel();
    CHECK_FALSE(bench.capture.runs());
    CHECK(bench.capture.notice().empty());
}

TEST_CASE("what was read has to go away before it is read again, though the capture was begun anew")
{
    Bench bench;
    REQUIRE(bench.live.seat());
    const bool handsFree = GENERATE(false, true);
    bench.capture.start(handsFree);
    CHECK(bench.playUntil(handsFree ? FitCaptureState::lift : FitCaptureState::off, 8.0));
    CHECK_FALSE(bench.capture.seatedAnew());
    bench.capture.cancel();
    bench.capture.start(false);
    CHECK(bench.capture.state() == FitCaptureState::lift);
    CHECK_THAT(bench.capture.notice(), Catch::Contains("this seating is read already"));
    bench.live.play(8.0);
    CHECK(bench.kept.size() == 1);
    bench.capture.cancel();
    bench.lift(); // while nothing listens
    bench.capture.start(false);
    CHECK(bench.capture.state() == FitCaptureState::waiting);
    REQUIRE(bench.live.seat());
    CHECK(bench.playUntil(FitCaptureState::off, 8.0));
    CHECK(bench.kept.size() == 2);
    CHECK(bench.capture.seatedAnew());
    bench.capture.forgetSeating();
    bench.capture.start(false);
    CHECK(bench.capture.state() == FitCaptureState::waiting);
}

TEST_CASE("a reading that is given up is not kept, and the tone has to go away first")
{
    Bench bench;
    bench.capture.start(true);
    bench.capture.giveUp("No reading runs.");
    CHECK(bench.capture.state() == FitCaptureState::waiting);
    REQUIRE(bench.live.seat());
    CHECK(bench.playUntil(FitCaptureState::reading, 6.0));
    bench.capture.giveUp("It belongs elsewhere.");
    CHECK(bench.capture.state() == FitCaptureState::lift);
    CHECK(bench.capture.notice() == "It belongs elsewhere.");
    bench.live.play(8.0);
    CHECK(bench.kept.empty());
    bench.lift();
    REQUIRE(bench.live.seat());
    CHECK(bench.playUntil(FitCaptureState::lift, 8.0));
    CHECK(bench.kept.size() == 1);
}

TEST_CASE("no average begins or ends while something holds it")
{
    Bench bench;
    bench.capture.hold("There is no drive.");
    bench.capture.start(true);
    REQUIRE(bench.live.seat());
    bench.live.play(8.0, {}, [&] { return bench.capture.state() != FitCaptureState::waiting; });
    CHECK(bench.capture.state() == FitCaptureState::waiting);
    CHECK(bench.capture.notice() == "There is no drive.");
    bench.capture.hold("");
    CHECK(bench.playUntil(FitCaptureState::reading, 6.0));
    bench.capture.hold("There is no drive.");
    bench.live.play(0.2);
    CHECK(bench.capture.state() == FitCaptureState::waiting);
    CHECK(bench.kept.empty());
}
