// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/ControlChart.h"
#include "Metrology/Expanded.h"
#include "Metrology/Repeats.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

namespace {

std::vector<ChartPoint> pointsOf(const std::vector<double>& offsets)
{
    std::vector<ChartPoint> points;
    for (std::size_t i = 0; i < offsets.size(); ++i)
        points.push_back({static_cast<double>(i), offsets[i]});
    return points;
}

} // namespace

TEST_CASE("mean and 3 s limits are those of the points that count")
{
    auto points = pointsOf({121.90, 122.02, 121.95, 122.05, 121.98, 122.24});
    points.back().counts = false; // set aside
    const auto chart = controlChart(points);
    const auto s = *repeatsOf({121.90, 122.02, 121.95, 122.05, 121.98});
    CHECK(chart.counted == 5);
    CHECK(*chart.mean_dB == Approx(121.98).epsilon(1e-12));
    CHECK(*chart.deviation_dB == Approx(s.deviation).epsilon(1e-12));
    CHECK(*chart.low_dB == Approx(121.98 - 3.0 * s.deviation).epsilon(1e-12));
    CHECK(*chart.high_dB == Approx(121.98 + 3.0 * s.deviation).epsilon(1e-12));
    REQUIRE(chart.points.size() == 6);
    CHECK(chart.points.back().outside); // shown, and seen to lie outside
    CHECK_FALSE(chart.points.front().outside);
}

TEST_CASE("the limits of NIST's repeated readings are its certified mean and scatter")
{
    // NIST StRD Michelso: 100 readings of the speed of light, certified to 15 digits.
    std::vector<double> y;
    for (const auto& row : published::table("nist_michelso_data").rows)
        y.push_back(row.number("x"));
    const auto chart = controlChart(pointsOf(y));
    CHECK(*chart.mean_dB == Approx(299.852400000000).epsilon(1e-14));
    CHECK(*chart.high_dB - *chart.mean_dB == Approx(3.0 * 0.0790105478190518).epsilon(1e-10));
}

TEST_CASE("fewer than five references have no limits and no drift, and none no mean")
{
    const auto four = controlChart(pointsOf({122.0, 122.1, 121.9, 122.0}));
    CHECK(four.mean_dB);
    CHECK(four.deviation_dB);
    CHECK_FALSE(four.low_dB);
    CHECK_FALSE(four.drift);
    CHECK_FALSE(controlChart(pointsOf({122.0})).deviation_dB);
    CHECK_FALSE(controlChart({}).mean_dB);
}

TEST_CASE("what came before a step that was meant has no part in mean, limits and drift")
{
    std::vector<ChartPoint> points;
    for (int day = 0; day < 6; ++day)
        points.push_back({20000.0 + day, 121.97 + 0.01 * (day % 2), true, false, true});
    for (int day = 6; day < 12; ++day)
        points.push_back({20000.0 + day, 115.95 + 0.01 * (day % 2)});
    const auto chart = controlChart(points);
    CHECK(chart.counted == 6);
    CHECK(*chart.mean_dB == Approx(115.955).epsilon(1e-12));
    CHECK(*chart.high_dB - *chart.low_dB < 0.05);
    CHECK_FALSE(chart.points.front().outside); // of another state of the chain
    REQUIRE(chart.drift);
    CHECK_FALSE(chart.drift->isReal());
    for (auto& point : points)
        point.beforeStep = false;
    CHECK(controlChart(points).drift->isReal()); // unless the step is counted as drift
}

TEST_CASE("a drift has a rate with its uncertainty, and is real only beyond it")
{
    std::vector<ChartPoint> rising, still;
    for (int day = 0; day < 10; ++day) {
        const double scatter = day % 2 == 0 ? 0.01 : -0.01;
        rising.push_back({20000.0 + day, 122.0 + 0.02 * day + scatter});
        still.push_back({20000.0 + day, 122.0 + scatter});
    }
    const auto drift = controlChart(rising).drift;
    REQUIRE(drift);
    // By hand: sum of squares about the mean day is 82.5; the alternation of +-0.01 leans the line by -0.05 / 82.5.
    CHECK(drift->dBPerDay == Approx(0.02 - 0.05 / 82.5).epsilon(1e-9));
    CHECK(drift->degreesOfFreedom == 8.0);
    CHECK(drift->U_dBPerDay == Approx(studentQuantile(0.9545, 8.0) * drift->u_dBPerDay).epsilon(1e-12));
    CHECK(drift->isReal());
    CHECK_FALSE(controlChart(still).drift->isReal());

    for (auto& point : rising)
        point.time_days = 20000.0; // all at once
    CHECK_FALSE(controlChart(rising).drift);
    for (std::size_t i = 0; i < rising.size(); ++i)
        rising[i].time_days = 20000.0 + 0.2 * static_cast<double>(i); // 1.8 days in all
    CHECK_FALSE(controlChart(rising).drift);
    rising.back().time_days = 20002.0; // by hand: two days are enough
    CHECK(controlChart(rising).drift);
    for (auto& point : still)
        point.time_days.reset();
    CHECK_FALSE(controlChart(still).drift);
}
