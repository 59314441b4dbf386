// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/HeardTones.h"
#include "Bench/LiveCalibrator.h"
#include "Metrology/Expanded.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

// What a reference's U is made of, each term worked out by hand (JCGM 100:2008 4.2.3, 4.3.7, 5.1.2).

using namespace couplet;
using namespace couplet::tests;

namespace {

ToneSummary heard(double level_dBFS, double scatter_dB = 0.004)
{
    return calibratorHeard(level_dBFS, scatter_dB);
}

ReferenceOutcome taken(const std::vector<ToneSummary>& seatings, const ReferenceSetup& setup)
{
    const auto outcome = takeReference(seatings, setup);
    INFO((outcome ? std::string() : outcome.fault().sentence));
    REQUIRE(outcome);
    REQUIRE(outcome->offset);
    return *outcome;
}

std::optional<BudgetTerm> termOf(const ReferenceOutcome& outcome, const std::string& name)
{
    const auto& budget = outcome.offset->budget;
    const auto found = std::find_if(budget.begin(), budget.end(), [&](const auto& term) { return term.name == name; });
    return found == budget.end() ? std::nullopt : std::optional(*found);
}

bool says(const ReferenceOutcome& outcome, const std::string& words)
{
    return std::any_of(outcome.notes.begin(), outcome.notes.end(),
                       [&](const auto& note) { return note.find(words) != std::string::npos; });
}

double variance(const ReferenceOutcome& outcome)
{
    REQUIRE(outcome.expanded);
    return outcome.expanded->u_dB * outcome.expanded->u_dB;
}

ReferenceSetup twoLevels()
{
    auto setup = setupOnPaper();
    setup.calibrator.tones = {{Hertz(1000.0), 94.03, 0.15}, {Hertz(1000.0), 114.02, 0.15}};
    setup.level_dB = 114.0;
    return setup;
}

} // namespace

TEST_CASE("a correction found with another calibrator leaves this one's certificate in U")
{
    auto setup = setupOnPaper();
    const auto own = taken({heard(-9.31)}, setup);
    CHECK_FALSE(termOf(own, "calibrator"));
    setup.coupler.correction->calibrator = "the neighbour's calibrator";
    const auto other = taken({heard(-9.31)}, setup);
    REQUIRE(termOf(other, "calibrator"));
    CHECK(termOf(other, "calibrator")->u_dB == Approx(0.075)); // U 0.15 of the certificate, k = 2
    CHECK(termOf(other, "correction"));
    CHECK(variance(other) - variance(own) == Approx(0.005625).epsilon(1e-9)); // 0.075^2
    CHECK(says(other, "found with 'the neighbour's calibrator'"));
    CHECK(other.offset->level_dB == own.offset->level_dB);
    REQUIRE(other.correction);
    CHECK_FALSE(other.correction->includesCalibrator);
}

TEST_CASE("several seatings are as uncertain as their scatter says, in place of what is assumed")
{
    // Mean -9.32, s = sqrt((0.03^2 + 0.03^2 + 0) / 2) = 0.03, s / sqrt(3) = 0.0173205 with 2 degrees of freedom.
    const auto outcome = taken({heard(-9.29), heard(-9.35), heard(-9.32)}, setupOnPaper());
    CHECK(outcome.offset->level_dB == Approx(121.98));
    const auto seating = termOf(outcome, "seating it again");
    REQUIRE(seating);
    CHECK(seating->u_dB == Approx(0.0173205).epsilon(1e-5));
    CHECK(seating->degreesOfFreedom == 2.0);
    CHECK(seating->obtained == "scatter of 3 seatings");
    // The mean's own reading: sqrt(3 0.004^2) / 3.
    CHECK(termOf(outcome, "reading")->u_dB == Approx(0.00230940).epsilon(1e-5));
    // A single one has what is assumed, or what was set.
    auto setup = setupOnPaper();
    CHECK(termOf(taken({heard(-9.32)}, setup), "seating it again")->u_dB == 0.05);
    setup.coupler.judged.seating_dB = 0.2;
    CHECK(termOf(taken({heard(-9.32)}, setup), "seating it again")->u_dB == 0.2);
    CHECK(termOf(taken({heard(-9.29), heard(-9.35), heard(-9.32)}, setup), "seating it again")->u_dB ==
          Approx(0.0173205).epsilon(1e-5));
}

TEST_CASE("two seatings far apart widen the offset's U as Student's t for one degree of freedom does")
{
    auto setup = setupOnPaper();
    setup.coupler.correction->U_dB = 0.0;
    setup.coupler.judged.drift_dB = setup.coupler.judged.linearity_dB = 0.0;
    setup.secondLevel.reset();
    const auto outcome = taken({heard(-9.0, 0.0), heard(-9.6, 0.0)}, setup);
    // s = 0.6 / sqrt(2), s / sqrt(2) = 0.3; t for one degree of freedom and 95.45 % is 13.97 (JCGM 100:2008 Table G.2).
    CHECK(termOf(outcome, "seating it again")->u_dB == Approx(0.3));
    CHECK(outcome.expanded->U_dB >= 0.3 * 13.96);
}

TEST_CASE("the step between two levels is as uncertain as both tones together")
{
    auto setup = twoLevels();
    setup.secondLevel = heard(-29.32, 0.03);
    const auto outcome = taken({heard(-9.31, 0.004)}, setup);
    REQUIRE(outcome.step);
    CHECK(outcome.step->measured_dB == Approx(20.01));
    CHECK(outcome.step->certified_dB == Approx(19.99));
    CHECK(outcome.step->u_dB == Approx(0.0302655).epsilon(1e-5)); // sqrt(0.004^2 + 0.03^2)
    const auto term = termOf(outcome, "linearity");
    REQUIRE(term);
    CHECK(term->shape == Shape::rectangular);
    // sqrt(0.02^2 + (2 0.0302655)^2) / sqrt(3)
    CHECK(term->u_dB == Approx(0.0368058).epsilon(1e-4));
    // Of several seatings the first tone is their mean, and its scatter that of the mean.
    const auto mean = taken({heard(-9.30, 0.06), heard(-9.32, 0.08)}, setup);
    CHECK(mean.step->measured_dB == Approx(20.01));
    CHECK(mean.step->u_dB == Approx(0.0583095).epsilon(1e-5)); // sqrt((0.06^2 + 0.08^2) / 4 + 0.03^2)
}
