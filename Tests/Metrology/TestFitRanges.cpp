// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/CorrectionFit.h"

#include <catch2/catch.hpp>

#include <cmath>

// What a fitting and an earphone say for themselves, by hand, before any of it is weighed.

using namespace couplet;

namespace {

std::vector<FitReading> atLevels(const std::vector<double>& levels_dB)
{
    std::vector<FitReading> all;
    for (const double level_dB : levels_dB) {
        FitReading reading;
        reading.level_dB = level_dB;
        all.push_back(reading);
    }
    return all;
}

FitInput bench()
{
    FitInput input;
    input.settings.u_calibrator_dB = 0.075;
    input.fittings = {{"cork sleeve", atLevels({113.0, 113.2, 113.4})}};
    input.through = {"", atLevels({111.0, 111.2})};
    return input;
}

} // namespace

TEST_CASE("a fitting says the difference of two means, within two deviations of it")
{
    const auto fit = fitCorrection(bench());
    REQUIRE(fit);
    const auto& fitting = fit->fittings.front();
    CHECK(*fitting.says_dB == Approx(2.1)); // 113.2 - 111.1
    CHECK(fitting.mean_dB == Approx(113.2));
    CHECK(*fitting.scatter_dB == Approx(0.2));
    CHECK(fitting.count == 3);
    // 2 sqrt(0.2^2 / 3 + 0.1414^2 / 2) = 0.305505
    REQUIRE(fitting.range);
    CHECK(fitting.range->low_dB == Approx(1.794495).margin(1e-6));
    CHECK(fitting.range->high_dB == Approx(2.405505).margin(1e-6));
}

TEST_CASE("a single reading through the coupler is as uncertain as one seating")
{
    auto input = bench();
    input.through = {"", atLevels({111.1})};
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    // 2 sqrt(0.2^2 / 3 + 0.05^2) = 0.251661
    CHECK(fit->fittings.front().range->low_dB == Approx(1.848339).margin(1e-6));
    CHECK(fit->fittings.front().range->high_dB == Approx(2.351661).margin(1e-6));
}

TEST_CASE("an earphone says its reading less what is expected, within its tolerance or else two deviations")
{
    auto input = bench();
    FitEarphone rated{"P", 96.3, 94.6, 0.8, 0.1};
    FitEarphone known{"Q", 96.0, 94.1, std::nullopt, 0.15};
    FitEarphone open{"R", 96.0, 94.1, std::nullopt, std::nullopt};
    input.earphones = {rated, known, open};
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    CHECK(fit->earphones[0].says_dB == Approx(1.7));
    CHECK(fit->earphones[0].range->low_dB == Approx(0.9));
    CHECK(fit->earphones[0].range->high_dB == Approx(2.5));
    CHECK(fit->earphones[0].takesPart);
    CHECK(fit->earphones[1].says_dB == Approx(1.9));
    CHECK(fit->earphones[1].range->low_dB == Approx(1.6));
    CHECK(fit->earphones[1].range->high_dB == Approx(2.2));
    CHECK_FALSE(fit->earphones[2].range);
    CHECK_FALSE(fit->earphones[2].takesPart);
}

TEST_CASE("any one uncertainty of a fit that is negative or no number is refused")
{
    REQUIRE(fitCorrection(bench()));
    for (const double bad : {-0.01, static_cast<double>(NAN), static_cast<double>(INFINITY)}) {
        CAPTURE(bad);
        auto input = bench();
        input.settings.u_transfer_dB = bad;
        CHECK_FALSE(fitCorrection(input));
        input = bench();
        input.settings.u_adapter_dB = bad;
        CHECK_FALSE(fitCorrection(input));
        input = bench();
        input.settings.u_seating_dB = bad;
        CHECK_FALSE(fitCorrection(input));
        input = bench();
        input.settings.u_calibrator_dB = bad;
        CHECK_FALSE(fitCorrection(input));
        input = bench();
        input.earphones = {FitEarphone{"P", 96.3, 94.6, bad, 0.1}};
        CHECK_FALSE(fitCorrection(input));
        input.earphones = {FitEarphone{"P", 96.3, 94.6, 0.8, bad}};
        CHECK_FALSE(fitCorrection(input));
        input.earphones.clear();
        input.through.readings[1].level_dB = NAN;
        CHECK_FALSE(fitCorrection(input));
    }
}
