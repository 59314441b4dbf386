// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/HeardTones.h"
#include "Bench/LiveCalibrator.h"

#include <catch2/catch.hpp>

#include <cmath>

// An offset's U against the same benches in numpy: offset_second.py draws what each depends on and prints half of the
// central 95.45 % of what comes out, which stands here. Four million draws leave it uncertain by 0.05 % or so.

using namespace couplet;
using namespace couplet::tests;

namespace {

constexpr double near = 0.004; // relative

ToneSummary heard(double level_dBFS, double scatter_dB)
{
    return calibratorHeard(level_dBFS, scatter_dB);
}

ReferenceSetup twoLevels(double U_dB)
{
    auto setup = setupOnPaper();
    setup.calibrator.tones = {{Hertz(1000.0), 94.03, U_dB}, {Hertz(1000.0), 114.02, U_dB}};
    setup.level_dB = 114.0;
    return setup;
}

double U_dB(const std::vector<ToneSummary>& seatings, const ReferenceSetup& setup)
{
    const auto outcome = takeReference(seatings, setup);
    REQUIRE(outcome);
    REQUIRE(outcome->expanded);
    return outcome->expanded->U_dB;
}

} // namespace

TEST_CASE("numpy gives the same U: a correction that holds the calibrator, and a second level")
{
    auto setup = twoLevels(0.15);
    setup.secondLevel = heard(-29.29, 0.004);
    CHECK(U_dB({heard(-9.31, 0.004)}, setup) == Approx(0.4631).epsilon(near));
}

TEST_CASE("numpy gives the same U: a piston source with a poor barometer, and a step that misses")
{
    auto setup = twoLevels(0.10);
    setup.coupler.correction.reset();
    setup.coupler.judged.seating_dB = 0.03;
    setup.coupler.judged.drift_dB = 0.01;
    setup.coupler.judged.barometer = Kilopascals(0.5);
    setup.calibrator.pressureLaw = {PressureLaw::Kind::piston, 0.0};
    setup.pressure = Kilopascals(98.6);
    setup.secondLevel = heard(-9.31 - 19.90, 0.02);
    CHECK(U_dB({heard(-9.31, 0.01)}, setup) == Approx(0.1864).epsilon(near));
}

TEST_CASE("numpy gives the same U: a correction without the calibrator, its certificate, and five seatings")
{
    auto setup = twoLevels(0.15);
    setup.coupler.correction->U_dB = 0.20;
    setup.coupler.correction->includesCalibrator = false;
    setup.secondLevel = heard(-9.316 - 19.99, 0.004);
    std::vector<ToneSummary> seatings;
    for (const double level_dBFS : {-9.30, -9.36, -9.31, -9.33, -9.28})
        seatings.push_back(heard(level_dBFS, 0.004));
    // Student's t itself has longer tails than the normal distribution that Welch and Satterthwaite put in its place.
    CHECK(U_dB(seatings, setup) == Approx(0.2563).epsilon(2.0 * near));
}
