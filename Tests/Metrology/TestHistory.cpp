// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Fitness.h"
#include "Metrology/Repeats.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

TEST_CASE("the first reference has nothing to be compared with")
{
    const auto check = checkAgainstHistory(121.97, {});
    CHECK_FALSE(check.change_dB);
    CHECK_FALSE(check.withinLimits);
    CHECK(check.allowedChange_dB == 0.3);
}

TEST_CASE("fewer than five references allow a change of 0.3 dB")
{
    const auto check = checkAgainstHistory(121.97, {121.9, 121.95, 122.1, 122.0});
    CHECK(*check.change_dB == Approx(-0.03).margin(1e-9).epsilon(0.0));
    CHECK(check.allowedChange_dB == 0.3);
    CHECK(check.withinLimits == true);
    CHECK(checkAgainstHistory(122.31, {122.0}).withinLimits == false);
}

TEST_CASE("five references give control limits from their own scatter")
{
    const std::vector<double> kept{121.90, 122.02, 121.95, 122.05, 121.98};
    const auto history = *repeatsOf(kept);
    const auto check = checkAgainstHistory(121.97, kept);
    CHECK(check.allowedChange_dB == Approx(3.0 * std::sqrt(2.0) * history.deviation).epsilon(1e-12));
    CHECK(check.withinLimits == true);
    CHECK(*check.change_dB == Approx(-0.01).margin(1e-9).epsilon(0.0));
    CHECK(checkAgainstHistory(history.mean + 2.99 * history.deviation, kept).withinLimits == true);
    CHECK(checkAgainstHistory(history.mean + 3.01 * history.deviation, kept).withinLimits == false);
    CHECK(checkAgainstHistory(history.mean - 3.01 * history.deviation, kept).withinLimits == false);
}

TEST_CASE("one take taken in again and again does not narrow the limits to nothing")
{
    const auto check = checkAgainstHistory(121.975, std::vector<double>(6, 121.97));
    CHECK(check.withinLimits == true);
    CHECK(check.allowedChange_dB > 0.005);
    CHECK(checkAgainstHistory(122.0, std::vector<double>(6, 121.97)).withinLimits == false);
}
