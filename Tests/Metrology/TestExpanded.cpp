// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Expanded.h"
#include "Metrology/Repeats.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

using namespace couplet;

namespace {

BudgetTerm normalTerm(const char* name, double u_dB, double nu = infiniteDegrees)
{
    return {name, u_dB, nu, Shape::normal, "example"};
}

// One draw of the sum that a budget describes, after JCGM 101:2008 6.4.
double draw(const Budget& budget, std::mt19937_64& engine)
{
    double sum = 0.0;
    for (const auto& term : budget) {
        const double halfWidth = term.u_dB * std::sqrt(3.0);
        sum += term.shape == Shape::rectangular ? std::uniform_real_distribution<double>(-halfWidth, halfWidth)(engine)
                                                : std::normal_distribution<double>(0.0, term.u_dB)(engine);
    }
    return sum;
}

double shareWithin(double U_dB, const Budget& budget, int draws)
{
    std::mt19937_64 engine(20100501);
    int within = 0;
    for (int i = 0; i < draws; ++i)
        within += std::abs(draw(budget, engine)) <= U_dB ? 1 : 0;
    return static_cast<double>(within) / draws;
}

} // namespace

TEST_CASE("the end gauge's budget comes out as published")
{
    // JCGM 100:2008 H.1: u_c 32 nm, effective degrees of freedom 16.7, U for 99 % 93 nm. Nanometres stand for
    // dB here.
    Budget budget;
    for (const auto& row : published::table("gum_h1_budget").rows)
        budget.push_back(normalTerm(row.text("component").c_str(), row.number("contribution_nm"), row.number("nu")));
    const double u = expand(budget).u_dB;
    const double nu = effectiveDegreesOfFreedom(budget);
    CHECK(std::round(u) == 32.0);
    CHECK(u * u == Approx(1002.0).margin(1.0).epsilon(0.0)); // published from contributions rounded to 0.1 nm
    CHECK(nu == Approx(16.7).margin(0.06).epsilon(0.0));
    CHECK(studentQuantile(0.99, std::floor(nu)) == Approx(2.92).margin(0.005).epsilon(0.0));
    CHECK(std::ceil(u * studentQuantile(0.99, std::floor(nu))) == 93.0);
    CHECK(expand(budget).degreesOfFreedom == nu);
    CHECK(expand(budget).coverageFactor == Approx(studentQuantile(0.9545, nu)).epsilon(1e-12));
}

TEST_CASE("a certificate, limits and an assumption give the standard uncertainties of the GUM")
{
    CHECK(fromCertificate("calibrator", 0.15, 2.0, "certificate").u_dB == 0.075);
    const auto limits = fromLimits("level", 0.40, "class 2");
    CHECK(limits.u_dB == Approx(0.577350 * 0.40).epsilon(1e-6)); // JCGM 100:2008 4.3.7
    CHECK(limits.shape == Shape::rectangular);
    CHECK(assumedTerm("seating it again", 0.05).obtained == "assumed");
}

TEST_CASE("a rectangle alone has U of 95.45 % of its half-width")
{
    const auto expanded = expand({fromLimits("tolerance", 1.00, "maker's")});
    CHECK(expanded.U_dB == Approx(0.9545).epsilon(1e-12));
    CHECK(roundedUp_dB(expanded.U_dB) == 0.96); // and not 2 / sqrt(3) = 1.16
    CHECK(expanded.coverageFactor == Approx(0.9545 * std::sqrt(3.0)).epsilon(1e-12));
}

TEST_CASE("normal terms alone are expanded by k in quadrature")
{
    const auto expanded = expand({normalTerm("a", 0.3), normalTerm("b", 0.4)});
    CHECK(expanded.u_dB == Approx(0.5).epsilon(1e-12));
    CHECK(expanded.U_dB == Approx(1.000001).epsilon(1e-6));
    CHECK(std::isinf(expanded.degreesOfFreedom));
}

TEST_CASE("an empty budget has no width, and k stays 2")
{
    CHECK(expand({}).U_dB == 0.0);
    CHECK(expand({}).coverageFactor == 2.0);
}

TEST_CASE("a rectangle's interval passes steadily from its own to the normal one as the rest grows")
{
    double previous = 0.9545;
    for (double sigma = 1e-14; sigma < 1e6; sigma *= 1.5) {
        const auto expanded = expand({fromLimits("tolerance", 1.0, "maker's"), normalTerm("rest", sigma)});
        CAPTURE(sigma);
        CHECK(expanded.U_dB >= previous * (1.0 - 1e-12));
        CHECK(expanded.U_dB <= 0.9545 + 2.0001 * sigma);
        // A rectangle in it only narrows the interval; where it hardly counts, k u remains.
        CHECK(expanded.coverageFactor < 2.00001);
        if (sigma > 10.0)
            CHECK(expanded.coverageFactor == Approx(2.0).margin(1e-4).epsilon(0.0));
        previous = expanded.U_dB;
    }
}

TEST_CASE("the largest rectangle keeps its shape whatever its place in the budget")
{
    const auto wide = fromLimits("wide", 1.0, "x"), narrow = fromLimits("narrow", 0.1, "x");
    const auto normal = normalTerm("normal", 0.1);
    const double U = expand({wide, narrow, normal}).U_dB;
    CHECK(expand({normal, narrow, wide}).U_dB == Approx(U).epsilon(1e-12));
    CHECK(U < 1.10);
    CHECK(U > 0.9545);
}

TEST_CASE("the closed form covers what 20,000 draws of its budget fall within")
{
    constexpr int draws = 20000;
    const double scatter = std::sqrt(0.9545 * (1.0 - 0.9545) / draws); // of the share itself
    const Budget budgets[] = {
        {fromLimits("tolerance", 1.0, "maker's"), normalTerm("offset", 0.231), normalTerm("insertion", 0.11)},
        {fromLimits("tolerance", 0.4, "class 2"), normalTerm("rest", 0.3)},
        {fromLimits("tolerance", 1.0, "maker's"), fromLimits("voltmeter", 0.043, "0.5 %"), normalTerm("rest", 0.1)}};
    for (const auto& budget : budgets) {
        const auto expanded = expand(budget);
        CHECK(std::abs(shareWithin(expanded.U_dB, budget, draws) - 0.9545) < 3.0 * scatter);
        // The check can tell: five per cent more or less of U fails it.
        CHECK(std::abs(shareWithin(1.05 * expanded.U_dB, budget, draws) - 0.9545) > 3.0 * scatter);
        CHECK(std::abs(shareWithin(0.95 * expanded.U_dB, budget, draws) - 0.9545) > 3.0 * scatter);
    }
}

TEST_CASE("few repeats widen the normal part beside a rectangle")
{
    const auto rectangle = fromLimits("tolerance", 0.3, "maker's");
    const double known = expand({rectangle, normalTerm("insertions", 0.2)}).U_dB;
    const double fromThree = expand({rectangle, normalTerm("insertions", 0.2, 2.0)}).U_dB;
    CHECK(fromThree > known * 1.5);
    CHECK(fromThree < known * 4.53 / 2.0); // t for two degrees of freedom over that for infinitely many
}

TEST_CASE("a term that stands in two budgets counts once")
{
    const auto seating = assumedTerm("seating it again", 0.05);
    auto otherSeating = seating;
    otherSeating.obtained = "12 seatings";
    const auto both = joined({seating, normalTerm("a", 0.1)}, {seating, otherSeating});
    REQUIRE(both.size() == 3);
    CHECK(expand(both).u_dB == Approx(std::sqrt(2 * 0.05 * 0.05 + 0.01)).epsilon(1e-12));
}

TEST_CASE("U is rounded upward and a value half away from zero")
{
    CHECK(roundedUp_dB(0.5221) == 0.53);
    CHECK(roundedUp_dB(0.9906) == 1.00);
    // A twentieth of the last digit is let go, as 28.05 kHz becomes 28 kHz in JCGM 100:2008 7.2.6 (from memory).
    CHECK(roundedUp_dB(0.9904) == 0.99);
    CHECK(roundedUp_dB(0.0001) == 0.01);
    CHECK(roundedUp_dB(expand({normalTerm("a", 0.225)}).U_dB) == 0.45);
    CHECK(rounded_dB(-0.125) == -0.13);
    CHECK_FALSE(std::signbit(rounded_dB(-0.001)));
}
