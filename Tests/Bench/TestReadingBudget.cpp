// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/HeardTones.h"
#include "Bench/Reading.h"
#include "Bench/SimulatedPapers.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

// What a reading's U is made of, each term worked out by hand: u^2 is the sum of the terms' squares (JCGM 100:2008
// 5.1.2), so what one term adds to u^2 is its own square, whatever else stands in the budget.

using namespace couplet;

namespace {

ToneSummary quietTone()
{
    return tests::earphoneHeard();
}

Setup bench()
{
    Setup s = tests::benchOfEarphone(
        {{"correction, with the calibrator", 0.225, infiniteDegrees, Shape::normal, "typed"}}, 500.01);
    s.coupler->response = tests::responseOfSketch();
    return s;
}

std::optional<BudgetTerm> termOf(const Budget& budget, const std::string& name)
{
    const auto found = std::find_if(budget.begin(), budget.end(), [&](const auto& term) { return term.name == name; });
    return found == budget.end() ? std::nullopt : std::optional(*found);
}

// What the change makes of u^2 of the reading.
double varianceAdded(const ToneSummary& changed, const Setup& setup = bench())
{
    const double before = makeReading(quietTone(), setup).measuredU->u_dB;
    const double after = makeReading(changed, setup).measuredU->u_dB;
    return after * after - before * before;
}

} // namespace

TEST_CASE("the scatter of the tone while it is read is in the reading's U and in the difference's")
{
    auto unsteady = quietTone();
    unsteady.scatter_dB = 0.3;
    CHECK(varianceAdded(unsteady) == Approx(0.09).epsilon(1e-9)); // 0.3^2
    const auto reading = makeReading(unsteady, bench());
    const auto term = termOf(reading.measured->budget, "steadiness of the tone");
    REQUIRE(term);
    CHECK(term->u_dB == 0.3);
    CHECK_FALSE(termOf(makeReading(quietTone(), bench()).measured->budget, "steadiness of the tone"));
    const auto difference = makeReading(unsteady, bench()).difference->expanded->u_dB;
    const auto before = makeReading(quietTone(), bench()).difference->expanded->u_dB;
    CHECK(difference * difference - before * before == Approx(0.09).epsilon(1e-9));
}

TEST_CASE("a mains order on the tone is in the reading's U as the rectangle that bounds it")
{
    // Anywhere within +-0.15 dB: 0.15^2 / 3 = 0.0075 (JCGM 100:2008 4.3.7).
    auto hummed = quietTone();
    hummed.humBound_dB = 0.15;
    CHECK(varianceAdded(hummed) == Approx(0.0075).epsilon(1e-9));
    const auto term = termOf(makeReading(hummed, bench()).measured->budget, "hum on the tone");
    REQUIRE(term);
    CHECK(term->u_dB == Approx(0.0866025).epsilon(1e-6));
    CHECK_FALSE(termOf(makeReading(quietTone(), bench()).measured->budget, "hum on the tone"));
}

TEST_CASE("the judged terms of a coupler stand in its readings' budgets in place of what is assumed")
{
    auto setup = bench();
    const double assumed = makeReading(quietTone(), setup).measuredU->u_dB;
    setup.coupler->judged.response_dB = 0.2;
    setup.coupler->judged.insertion_dB = 0.3;
    const auto reading = makeReading(quietTone(), setup);
    CHECK(termOf(reading.measured->budget, "microphone response")->u_dB == 0.2);
    CHECK(termOf(reading.measured->budget, "inserting it again")->u_dB == 0.3);
    CHECK(termOf(reading.measured->budget, "inserting it again")->obtained == "set by you");
    // 0.2^2 + 0.3^2 for 0.05^2 + 0.11^2.
    CHECK(reading.measuredU->u_dB * reading.measuredU->u_dB - assumed * assumed == Approx(0.1154).epsilon(1e-9));
}

TEST_CASE("a typed offset's U is two standard uncertainties, and without U there is none")
{
    Setup setup = bench();
    setup.coupler.reset();
    setup.offset = TypedOffset{121.97, 0.40};
    const auto reading = makeReading(quietTone(), setup);
    REQUIRE(reading.measuredU);
    CHECK(termOf(reading.measured->budget, "offset")->u_dB == Approx(0.20));
    CHECK(reading.measured->level_dB == Approx(93.92)); // -28.05 + 121.97
    setup.offset->U_dB.reset();
    const auto without = makeReading(quietTone(), setup);
    CHECK_FALSE(without.measuredU);
    CHECK_FALSE(without.verdict);
    CHECK(without.measured->level_dB == Approx(93.92));
}

TEST_CASE("the response table is taken out relative to the reference's frequency, and only where it reaches both")
{
    auto setup = bench();
    setup.coupler->response = {{Hertz(250.0), 0.40}, {Hertz(1000.0), -0.20}, {Hertz(4000.0), 0.8}};
    auto& reference = setup.coupler->references[0];
    reference.frequency = Hertz(250.0);
    auto tone = quietTone();
    tone.frequency = Hertz(500.0);
    // Half-way between 250 Hz and 1 kHz in lg f: R = 0.10; R(250 Hz) = 0.40; -(0.10 - 0.40) = +0.30.
    CHECK(makeReading(tone, setup).measured->level_dB == Approx(-28.05 + 121.97 + 0.30).epsilon(1e-12));
    reference.frequency = Hertz(1000.0);
    CHECK(makeReading(tone, setup).measured->level_dB == Approx(-28.05 + 121.97 - 0.30).epsilon(1e-12));
    reference.frequency = Hertz(200.0); // not in the table
    const auto beyond = makeReading(tone, setup);
    CHECK(beyond.measured->level_dB == Approx(-28.05 + 121.97).epsilon(1e-12));
    CHECK(std::any_of(beyond.notes.begin(), beyond.notes.end(),
                      [](const auto& note) { return note.find("does not reach") != std::string::npos; }));
}
