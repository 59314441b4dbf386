// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Line.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

TEST_CASE("the thermometer's calibration line comes out as the GUM has it")
{
    // JCGM 100:2008 H.3: every published figure to its last digit.
    std::vector<double> t, b;
    for (const auto& row : published::table("gum_h3_thermometer").rows) {
        t.push_back(row.number("t_C"));
        b.push_back(row.number("b_C"));
    }
    const auto line = lineThrough(t, b, 20.0);
    REQUIRE(line);
    const auto within = [](double half) { return half * 1.02; }; // half of the last digit published
    CHECK(std::abs(line->intercept - -0.1712) < within(0.00005));
    CHECK(std::abs(line->uIntercept - 0.0029) < within(0.00005));
    CHECK(std::abs(line->slope - 0.00218) < within(0.000005));
    CHECK(std::abs(line->uSlope - 0.00067) < within(0.000005));
    CHECK(std::abs(line->correlation - -0.930) < within(0.0005));
    CHECK(std::abs(line->deviation - 0.0035) < within(0.00005));
    CHECK(line->degreesOfFreedom == 9.0);
    CHECK(std::abs(line->at(30.0) - -0.1494) < within(0.00005));
    CHECK(std::abs(line->uAt(30.0) - 0.0041) < within(0.00005));
}

TEST_CASE("a line far from its origin keeps its digits")
{
    const double far = 20000.0; // days since 1970
    const auto near = lineThrough({0.0, 1.0, 2.0, 4.0}, {1.0, 1.1, 1.15, 1.4});
    const auto there = lineThrough({far, far + 1.0, far + 2.0, far + 4.0}, {1.0, 1.1, 1.15, 1.4}, far);
    REQUIRE(near);
    REQUIRE(there);
    CHECK(there->slope == Approx(near->slope).epsilon(1e-12));
    CHECK(there->uSlope == Approx(near->uSlope).epsilon(1e-9));
}

TEST_CASE("fewer than three readings, or all at one place, have no line")
{
    CHECK_FALSE(lineThrough({1.0, 2.0}, {1.0, 2.0}));
    CHECK_FALSE(lineThrough({1.0, 1.0, 1.0}, {1.0, 2.0, 3.0}));
    CHECK_FALSE(lineThrough({1.0, 2.0, std::nan("")}, {1.0, 2.0, 3.0}));
}
