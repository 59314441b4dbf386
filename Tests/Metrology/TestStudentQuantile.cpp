// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Expanded.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace couplet;

TEST_CASE("Student's t meets both six-decimal columns for the degrees of freedom of GUM Table G.2")
{
    // JCGM 100:2008 Table G.2; the six-decimal columns are computed, see the table's first line.
    for (const auto& row : published::table("gum_table_g2_student_t").rows) {
        const double nu = row.number("nu");
        CAPTURE(nu);
        CHECK(studentQuantile(0.95, nu) == Approx(row.number("t95_exact")).margin(6e-7).epsilon(0.0));
        CHECK(studentQuantile(0.9545, nu) == Approx(row.number("t9545_exact")).margin(6e-7).epsilon(0.0));
    }
}

TEST_CASE("Student's t meets the printed columns of GUM Table G.2")
{
    for (const auto& row : published::table("gum_table_g2_student_t").rows) {
        const double nu = row.number("nu");
        CAPTURE(nu);
        const auto printed = [&row](const char* column) {
            return Approx(row.number(column)).margin(0.00501).epsilon(0.0);
        };
        CHECK(studentQuantile(0.6827, nu) == printed("p68.27"));
        CHECK(studentQuantile(0.90, nu) == printed("p90"));
        CHECK(studentQuantile(0.99, nu) == printed("p99"));
        CHECK(studentQuantile(0.9973, nu) == printed("p99.73"));
    }
}

TEST_CASE("Student's t falls smoothly between whole degrees of freedom")
{
    double previous = studentQuantile(0.9545, 1.0);
    for (double nu = 1.05; nu < 40.0; nu += 0.05) {
        const double here = studentQuantile(0.9545, nu);
        CHECK(here < previous);
        previous = here;
    }
    // Two independent routes, the beta function and the series in 1/nu, meet where one takes over from the
    // other.
    CHECK(studentQuantile(0.9545, 10000.0) == Approx(studentQuantile(0.9545, 10000.001)).margin(1e-9).epsilon(0.0));
}

TEST_CASE("Student's t has its closed forms at one and two degrees of freedom")
{
    for (const double p : {0.1, 0.5, 0.9, 0.9545, 0.999}) {
        CAPTURE(p);
        CHECK(studentQuantile(p, 1.0) == Approx(std::tan(0.5 * std::numbers::pi * p)).epsilon(1e-10));
        CHECK(studentQuantile(p, 2.0) == Approx(p * std::sqrt(2.0 / (1.0 - p * p))).epsilon(1e-10));
    }
}
