// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Difference.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

namespace {

Figure figure(double level_dB, double U_dB, const char* name)
{
    Figure result;
    result.level_dB = level_dB;
    result.budget = {fromCertificate(name, U_dB, 2.0, "example")};
    return result;
}

} // namespace

TEST_CASE("the E_n number is that of the laboratory example")
{
    // E_n after ISO 13528 (from memory): 114.10 against 114.00 with U 0.20 and 0.15 gives 0.400.
    const auto difference = compare(figure(114.10, 0.20, "laboratory"), figure(114.00, 0.15, "reference"));
    REQUIRE(difference.enNumber);
    CHECK(*difference.enNumber == Approx(0.400).margin(0.0005).epsilon(0.0));
    CHECK(difference.verdict == Verdict::agrees);
    CHECK(difference.termToImprove.empty());
}

TEST_CASE("a verdict uses unrounded figures, and its edge agrees")
{
    const double U = expand({fromCertificate("u", 0.25, 2.0, "example")}).U_dB;
    const auto verdictAt = [](double D_dB) {
        return compare(figure(D_dB, 0.25, "one"), figure(0.0, 0.0, "other")).verdict;
    };
    CHECK(verdictAt(U) == Verdict::agrees);
    CHECK(verdictAt(-U) == Verdict::agrees);
    CHECK(verdictAt(U + 1e-9) == Verdict::differs);
    CHECK(verdictAt(-U - 1e-9) == Verdict::differs);
}

TEST_CASE("U of just the largest allowed agrees, and the next larger number does not")
{
    const auto measured = figure(94.5, 1.2, "offset"), expected = figure(94.0, 0.8, "rating");
    const double U = compare(measured, expected).expanded->U_dB;
    CHECK(U == Approx(1.4422).margin(1e-4)); // sqrt(1.2^2 + 0.8^2)
    CHECK(compare(measured, expected, U).verdict == Verdict::agrees);
    CHECK(compare(measured, expected, std::nextafter(U, 0.0)).verdict == Verdict::tooUncertain);
    CHECK(compare(measured, expected, std::nextafter(U, 2.0)).verdict == Verdict::agrees);
}

TEST_CASE("a difference too uncertain to say names the term to improve")
{
    auto measured = figure(94.5, 1.4, "correction, with the calibrator");
    measured.budget.push_back(assumedTerm("seating it again", 0.05));
    const auto expected = figure(94.0, 0.8, "tolerance of the rating");
    const auto difference = compare(measured, expected);
    CHECK(difference.verdict == Verdict::tooUncertain);
    CHECK(difference.termToImprove == "correction, with the calibrator");
    CHECK(compare(measured, expected, 2.0).verdict == Verdict::agrees);
    // Beyond even so wide an uncertainty it differs, whatever is allowed.
    CHECK(compare(figure(97.0, 1.4, "correction, with the calibrator"), expected).verdict == Verdict::differs);
}

TEST_CASE("what stands between two figures widens their difference and neither of them")
{
    Figure between;
    between.budget = {fromLimits("coupler at 1 kHz", 0.5, "table")};
    const auto measured = figure(94.9, 0.5, "offset"), expected = figure(94.0, 0.5, "rating");
    CHECK(compare(measured, expected).verdict == Verdict::differs);
    const auto difference = compare(measured, expected, defaultLargestU_dB, between);
    CHECK(difference.verdict == Verdict::agrees);
    CHECK(difference.expanded->u_dB == Approx(std::sqrt(0.0625 + 0.0625 + 0.25 / 3.0)));
    CHECK(difference.between == between.budget);
    between.missing = {"its tolerance is not known"};
    CHECK_FALSE(compare(measured, expected, defaultLargestU_dB, between).verdict);
}

TEST_CASE("a figure without uncertainty leaves the verdict open, but not the difference")
{
    auto expected = figure(93.86, 0.99, "tolerance of the rating");
    expected.missing.push_back("the voltmeter's accuracy is not stated");
    for (const auto& difference :
         {compare(figure(93.97, 0.53, "offset"), expected), compare(expected, figure(93.97, 0.53, "offset"))}) {
        CHECK(std::abs(difference.D_dB) == Approx(0.11));
        CHECK_FALSE(difference.expanded);
        CHECK_FALSE(difference.enNumber);
        CHECK_FALSE(difference.verdict);
    }
}

TEST_CASE("no budget at all is not taken for certainty")
{
    Figure bare;
    bare.level_dB = 94.0;
    CHECK_FALSE(compare(bare, bare).verdict);
    bare.level_dB = std::nan("");
    CHECK_FALSE(compare(bare, figure(94.0, 0.5, "x")).verdict);
}

TEST_CASE("verdicts read as words")
{
    CHECK(verdictText(Verdict::agrees) == "agrees");
    CHECK(verdictText(Verdict::differs) == "differs");
    CHECK(verdictText(Verdict::tooUncertain) == "too uncertain to say");
}
