// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Outliers.h"
#include "Metrology/ScaledErfc.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

TEST_CASE("Grubbs' critical values are those of the standard")
{
    // ISO 5725-2, table of critical values for Grubbs' test, one largest or one smallest (from memory): upper 1 % and
    // upper 5 % of the two-sided test.
    const struct
    {
        std::size_t n;
        double one, five;
    } rows[] = {{3, 1.155, 1.155}, {4, 1.496, 1.481}, {5, 1.764, 1.715}, {10, 2.482, 2.290}, {20, 3.001, 2.709}};
    for (const auto& row : rows) {
        CAPTURE(row.n);
        CHECK(grubbsCritical(row.n, 0.01) == Approx(row.one).margin(0.001).epsilon(0.0));
        CHECK(grubbsCritical(row.n, 0.05) == Approx(row.five).margin(0.001).epsilon(0.0));
    }
}

TEST_CASE("an outlier is found at its place, a second one behind it too, and a straggler is called one")
{
    const auto one = outliersOf({94.01, 94.03, 97.0, 94.02, 94.04, 94.0, 94.05, 94.03});
    REQUIRE(one.size() == 1);
    CHECK(one[0].index == 2);
    CHECK_FALSE(one[0].straggler);
    const auto two = outliersOf({94.01, 94.03, 97.0, 94.02, 94.04, 94.0, 94.05, 94.03, 94.01, 94.02, 80.0});
    REQUIRE(two.size() == 2);
    CHECK(two[0].index == 10);
    CHECK(two[1].index == 2);
    const auto straggler = outliersOf({0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 1.52});
    REQUIRE(straggler.size() == 1);
    CHECK(straggler[0].straggler);
}

TEST_CASE("two readings, equal ones and even ones have no outlier")
{
    CHECK(outliersOf({}).empty());
    CHECK(outliersOf({94.0, 114.0}).empty());
    CHECK(outliersOf({94.0, 94.0, 94.0, 94.0}).empty());
    CHECK(outliersOf({94.0, 94.1, 94.2, 94.3, 94.4}).empty());
}

TEST_CASE("ranks correlate as in a worked example")
{
    // Arithmetic: ranks 1..5 against 2, 1, 4, 3, 5: 1 - 6 * 4 / (5 * 24) = 0.8.
    CHECK(*rankCorrelation({10, 20, 30, 40, 50}, {2.5, 1.0, 7.0, 6.0, 99.0}) == Approx(0.8));
    CHECK(*rankCorrelation({1, 2, 3}, {-1, -2, -3}) == Approx(-1.0));
    CHECK_FALSE(rankCorrelation({1, 1, 1}, {1, 2, 3}));
    CHECK_FALSE(rankCorrelation({1, 2}, {1, 2}));
}

TEST_CASE("a drift and a growing scatter are told, and neither from five readings")
{
    const std::vector<double> times{0, 60, 120, 180, 240, 300, 360, 420, 480, 540};
    const auto drift = timeTrendOf({94.0, 93.9, 93.8, 93.7, 93.6, 93.5, 93.4, 93.3, 93.2, 93.1}, times);
    CHECK(drift.drifts);
    CHECK_FALSE(drift.scatterGrows);
    const auto slip = timeTrendOf({94.01, 93.98, 94.03, 93.94, 94.06, 93.9, 94.13, 93.82, 94.21, 93.7}, times);
    CHECK(slip.scatterGrows);
    CHECK_FALSE(slip.drifts);
    const auto calm = timeTrendOf({94.01, 93.98, 94.03, 93.97, 94.0, 94.02, 93.99, 94.01, 93.98, 94.0}, times);
    CHECK_FALSE(calm.drifts);
    CHECK_FALSE(calm.scatterGrows);
    CHECK_FALSE(timeTrendOf({5, 4, 3, 2, 1}, {0, 1, 2, 3, 4}).drifts);
    CHECK_FALSE(timeTrendOf({5, 5, 5, 5, 5, 5}, {0, 1, 2, 3, 4, 5}).drifts);
}

TEST_CASE("tails of the normal distribution keep their digits far out")
{
    // erfc(10) = 2.088487583762545e-45 and P(Z > 40) = exp(-804.6084420137538) (numpy and scipy 1.10).
    CHECK(scaledErfc(10.0) == Approx(2.088487583762545e-45 * std::exp(100.0)).epsilon(1e-7));
    CHECK(logUpperTail(40.0) == Approx(-804.6084420137538).epsilon(1e-10));
    CHECK(logUpperTail(-8.0) == Approx(-6.22096057427182e-16).epsilon(1e-6));
    for (double z = 0.0; z < 60.0; z += 0.037)
        CHECK(scaledErfcQuick(z) == Approx(scaledErfc(z)).epsilon(1e-6));
}
