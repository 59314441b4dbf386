// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/CorrectionFit.h"
#include "Metrology/FitBenches.h"
#include "Metrology/WhatIf.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("the number of further readings that is told suffices, and one fewer does not")
{
    // Loose enough that readings still help: one fitting, nothing shared to speak of.
    FitEvidence e;
    e.fittings = {{1.4, 3, 0.3}};
    e.earphones = {{1.5, 1.0, 0.12}, {1.2, 1.0, 0.12}};
    e.u_through_dB = 0.02;
    const double now = halfInterval_dB(e);
    auto best = e;
    best.fittings[0].count += mostMoreReadings;
    const double wanted = 0.5 * (now + halfInterval_dB(best));
    const auto more = readingsForU(e, 5, 0.04, wanted);
    REQUIRE(more.ofFitting[0]);
    REQUIRE(*more.ofFitting[0] > 0);
    auto changed = e;
    changed.fittings[0].count += *more.ofFitting[0];
    CHECK(halfInterval_dB(changed) <= wanted);
    changed.fittings[0].count -= 1;
    CHECK(halfInterval_dB(changed) > wanted);
}

TEST_CASE("what readings repeat they cannot lessen, and what is there needs none")
{
    const auto e = sketchEvidence();
    const auto never = readingsForU(e, 5, 0.04, 0.1);
    for (const auto& count : never.ofFitting)
        CHECK_FALSE(count);
    CHECK_FALSE(never.ofThrough);
    const auto already = readingsForU(e, 5, 0.04, 1.0);
    for (const auto& count : already.ofFitting)
        CHECK(count == std::size_t{0});
    CHECK(already.ofThrough == std::size_t{0});
}

TEST_CASE("two fittings are told apart by readings only where their errors allow it")
{
    const FittingEvidence loose{2.0, 2, 0.5}, tight{0.0, 4, 0.05};
    const auto more = readingsToTellApart(loose, tight, 1.9);
    REQUIRE(more);
    REQUIRE(*more > 0);
    FittingEvidence enough = loose;
    enough.count += *more;
    CHECK(2.0 > toldApartFrom_dB(enough, tight, 1.9));
    enough.count -= 1;
    CHECK(2.0 <= toldApartFrom_dB(enough, tight, 1.9));
    CHECK_FALSE(readingsToTellApart(loose, tight, 4.0));
    CHECK_FALSE(readingsToTellApart({2.0, 1, 0.0}, tight, 1.9));
    CHECK(readingsToTellApart({9.0, 4, 0.05}, tight, 4.0) == std::size_t{0});
}
