// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Fitness.h"
#include "Metrology/Repeats.h"
#include "Simulation/Random.h"

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

// Student's t of 99.73 %: scipy.stats.t.ppf.
TEST_CASE("five references give control limits from their own scatter, which five know badly")
{
    const std::vector<double> kept{121.94, 122.00, 121.965, 122.015, 121.98};
    const auto history = *repeatsOf(kept);
    const auto check = checkAgainstHistory(121.97, kept);
    constexpr double t = 6.6202;
    CHECK(check.allowedChange_dB == Approx(t * std::sqrt(2.0) * history.deviation).epsilon(1e-4));
    CHECK(check.withinLimits == true);
    CHECK(*check.change_dB == Approx(-0.01).margin(1e-9).epsilon(0.0));
    const double width_dB = t * history.deviation * std::sqrt(1.2);
    CHECK(checkAgainstHistory(history.mean + 0.99 * width_dB, kept).withinLimits == true);
    CHECK(checkAgainstHistory(history.mean + 1.01 * width_dB, kept).withinLimits == false);
    CHECK(checkAgainstHistory(history.mean - 1.01 * width_dB, kept).withinLimits == false);
}

TEST_CASE("references that scatter widely allow no more than 0.3 dB, or than 3 sqrt(2) s")
{
    const std::vector<double> some{121.90, 122.02, 121.95, 122.05, 121.98};
    CHECK(checkAgainstHistory(121.97, some).allowedChange_dB == 0.3);
    const std::vector<double> wide{121.6, 122.2, 121.9, 122.3, 122.0};
    CHECK(checkAgainstHistory(121.97, wide).allowedChange_dB ==
          Approx(3.0 * std::sqrt(2.0) * repeatsOf(wide)->deviation).epsilon(1e-12));
}

TEST_CASE("a good sixth reference is doubted as seldom as three sigmas say")
{
    SplitMix64 seeds(9);
    Xoshiro256 random(seeds);
    constexpr int benches = 20000;
    int moved = 0, outside = 0;
    for (int i = 0; i < benches; ++i) {
        std::vector<double> kept(5);
        for (double& x : kept)
            x = 122.0 + 0.05 * random.nextNormal();
        const auto check = checkAgainstHistory(122.0 + 0.05 * random.nextNormal(), kept);
        moved += std::abs(*check.change_dB) > check.allowedChange_dB ? 1 : 0;
        outside += check.withinLimits == true ? 0 : 1;
    }
    CHECK(moved < 0.005 * benches);
    CHECK(outside < 0.005 * benches);
    CHECK(outside > 0.001 * benches);
}

TEST_CASE("one take taken in again and again does not narrow the limits to nothing")
{
    const auto check = checkAgainstHistory(121.975, std::vector<double>(6, 121.97));
    CHECK(check.withinLimits == true);
    CHECK(check.allowedChange_dB > 0.005);
    CHECK(checkAgainstHistory(122.0, std::vector<double>(6, 121.97)).withinLimits == false);
}
