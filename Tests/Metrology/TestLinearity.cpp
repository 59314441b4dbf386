// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Linearity.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

TEST_CASE("a step of 19.98 dB where 19.99 dB are certified passes and says so")
{
    const LevelStep step{94.0, 19.98, 19.99, 0.002};
    const auto check = stepCheck(step);
    CHECK(check.name == "step to 94 dB, 19.99");
    CHECK(check.value == 19.98);
    CHECK(check.passes);
    const auto term = linearityTerm(step);
    CHECK(term.name == "linearity");
    CHECK(term.obtained == "step 19.98 dB, certified 19.99");
    CHECK(term.shape == Shape::rectangular);
    CHECK(term.u_dB == Approx(std::hypot(0.01, 0.004) / std::sqrt(3.0)).epsilon(1e-9));
}

TEST_CASE("a step that is right by luck still leaves its own uncertainty")
{
    CHECK(linearityTerm({94.0, 20.0, 20.0, 0.01}).u_dB == Approx(0.02 / std::sqrt(3.0)));
}

TEST_CASE("a step that misses by more than 0.10 dB warns with both figures")
{
    CHECK(stepCheck({94.0, 19.90, 20.0, 0.0}).passes); // inclusive
    const auto check = stepCheck({94.0, 19.80, 20.0, 0.0});
    CHECK_FALSE(check.passes);
    CHECK(check.reason.find("19.80 dB") != std::string::npos);
    CHECK(check.reason.find("20.00 dB") != std::string::npos);
}

TEST_CASE("a step that misses by more than a twentieth of itself is a gross miss, to either side")
{
    CHECK_FALSE(isGrossMiss({114.02, 20.99, 20.0, 0.0}));
    CHECK(isGrossMiss({114.02, 21.01, 20.0, 0.0}));
    CHECK(isGrossMiss({114.02, 18.99, 20.0, 0.0}));
    CHECK(isGrossMiss({114.02, 10.0, 20.0, 0.0})); // 2:1
    CHECK_FALSE(isGrossMiss({104.0, 9.51, 10.0, 0.0}));
    CHECK(isGrossMiss({104.0, 9.49, 10.0, 0.0}));
}

TEST_CASE("an unchecked linearity is assumed, or what the third harmonic would mean where that is more")
{
    for (const double third : {0.0, 0.001, -0.0019}) {
        const auto term = linearityUnchecked(third);
        CHECK(term.u_dB == 0.03);
        CHECK(term.obtained == "assumed");
    }
    // x + a x^3 of a sine of 1, as its Fourier terms say: 1 + 3 a / 4 and a / 4.
    for (const double a : {0.04, 0.2, 0.6}) {
        const auto term = linearityUnchecked(0.25 * a / (1.0 + 0.75 * a));
        CHECK(term.shape == Shape::rectangular);
        CHECK(term.u_dB * std::sqrt(3.0) == Approx(20.0 * std::log10(1.0 + 0.75 * a)).epsilon(1e-9));
    }
    CHECK(linearityUnchecked(-0.02).u_dB == linearityUnchecked(0.02).u_dB);
    CHECK(linearityUnchecked(-0.02).obtained == "assumed: a third harmonic of 2 %");
    CHECK(std::isfinite(linearityUnchecked(5.0).u_dB));
}
