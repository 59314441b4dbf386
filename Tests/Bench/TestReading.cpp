// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/HeardTones.h"
#include "Bench/Reading.h"
#include "Bench/SimulatedPapers.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace couplet;

namespace {

// The Read sketch: earphone S on the left, as measured and as on paper.
ToneSummary toneOfSketch()
{
    return tests::earphoneHeard();
}

Setup setupOfSketch()
{
    Setup s = tests::benchOfEarphone(tests::budgetOfSketch(), 1000.04);
    s.coupler->response = tests::responseOfSketch();
    s.side = "left";
    return s;
}

bool says(const Reading& r, const std::string& words)
{
    return std::any_of(r.notes.begin(), r.notes.end(),
                       [&](const std::string& note) { return note.find(words) != std::string::npos; });
}

} // namespace

TEST_CASE("the Read sketch comes out, with every addend")
{
    const Reading r = makeReading(toneOfSketch(), setupOfSketch());
    REQUIRE(r.referenced);
    CHECK(rounded_dB(r.measured->level_dB) == 93.97);
    REQUIRE(r.measured->addends.size() == 3);
    CHECK(rounded_dB(r.measured->addends[0].value_dB) == -28.05);
    CHECK(rounded_dB(r.measured->addends[1].value_dB) == 121.97);
    CHECK(rounded_dB(r.measured->addends[2].value_dB) == 0.05);
    CHECK(roundedUp_dB(r.measuredU->U_dB) == 0.53);
    CHECK(rounded_dB(r.expected->level_dB) == 93.86);
    CHECK(roundedUp_dB(r.expectedU->U_dB) == 1.00);
    CHECK(rounded_dB(r.difference->D_dB) == 0.11);
    CHECK(r.difference->expanded->U_dB == Approx(1.3405).margin(0.001)); // with the coupler's 0.5 dB, by numpy
    CHECK(r.verdict == Verdict::agrees);
    CHECK_FALSE(r.tookPartInCorrection);
    CHECK_FALSE(r.answersNo());
}

TEST_CASE("what an earphone makes of a volt is taken from what was measured")
{
    // The Earphones sketch: 112.53 dB SPL for 1 V would need 118.4 mV for 94 dB SPL and is 96.33 dB for 1 mW into 24 ohm.
    const Reading r = makeReading(toneOfSketch(), setupOfSketch());
    const double perVolt = *r.sensitivity.dBSPLPerVolt;
    CHECK(perVolt == Approx(93.97 + 18.188 + 0.355).margin(0.001));
    CHECK(*r.sensitivity.dBSPLPerMilliwatt == Approx(perVolt - 30.0 + 10.0 * std::log10(24.0)).margin(1e-9));
    CHECK(r.sensitivity.terminalVoltsFor94->value == Approx(std::pow(10.0, (94.0 - perVolt) / 20.0)).epsilon(1e-9));
}

TEST_CASE("a coupler without a reference never shows dB SPL")
{
    auto setup = setupOfSketch();
    setup.coupler->references.clear();
    const Reading r = makeReading(toneOfSketch(), setup);
    CHECK_FALSE(r.referenced);
    CHECK(r.measured->level_dB == -28.05);
    CHECK_FALSE(r.measuredU);
    CHECK_FALSE(r.difference);
    CHECK_FALSE(r.verdict);
    CHECK(says(r, "no reference"));
}

TEST_CASE("a stale reference still reads, and says so")
{
    auto setup = setupOfSketch();
    setup.now = "2026-05-05T12:04:00Z";
    const Reading r = makeReading(toneOfSketch(), setup);
    CHECK(r.referenced);
    CHECK(r.verdict == Verdict::agrees);
    CHECK(says(r, "stale: taken 48 h ago"));
}

TEST_CASE("an earphone that chose the correction is no proof")
{
    auto setup = setupOfSketch();
    setup.earphone->choseCorrectionOf = {setup.coupler->name};
    const Reading r = makeReading(toneOfSketch(), setup);
    CHECK(r.tookPartInCorrection);
    CHECK(says(r, "no proof"));
}

TEST_CASE("without a tolerance the expected level stands and the verdict does not")
{
    auto setup = setupOfSketch();
    setup.earphone->rating.tolerance_dB.reset();
    const Reading r = makeReading(toneOfSketch(), setup);
    CHECK(rounded_dB(r.expected->level_dB) == 93.86);
    CHECK_FALSE(r.expectedU);
    REQUIRE(r.difference);
    CHECK_FALSE(r.difference->expanded);
    CHECK_FALSE(r.verdict);
    CHECK(says(r, "tolerance is not stated"));
}

TEST_CASE("a level far from the rating differs")
{
    auto tone = toneOfSketch();
    tone.level_dBFS = -30.0;
    const Reading r = makeReading(tone, setupOfSketch());
    CHECK(r.verdict == Verdict::differs);
    CHECK(r.answersNo());
}

TEST_CASE("more uncertainty than is allowed says which term to improve")
{
    auto setup = setupOfSketch();
    setup.largestU_dB = 1.0;
    const Reading r = makeReading(toneOfSketch(), setup);
    CHECK(r.verdict == Verdict::tooUncertain);
    CHECK(says(r, "the term to improve is"));
}

TEST_CASE("a clipped take shows its level and no verdict")
{
    auto tone = toneOfSketch();
    tone.clippedSamples = 12;
    const Reading r = makeReading(tone, setupOfSketch());
    CHECK(r.measured);
    CHECK_FALSE(r.verdict);
    CHECK(r.answersNo());
    CHECK(says(r, "clipped: 12 samples"));
}

TEST_CASE("a tone far from the rating's frequency gives no expected level and says so")
{
    auto tone = toneOfSketch();
    tone.frequency = Hertz(1000.0);
    const Reading r = makeReading(tone, setupOfSketch());
    CHECK(r.measured);
    CHECK_FALSE(r.expected);
    CHECK_FALSE(r.verdict);
    CHECK(says(r, "500 Hz"));
}

TEST_CASE("the drive sensed on the second channel takes the place of the typed one")
{
    auto setup = setupOfSketch();
    auto tone = toneOfSketch();
    setup.driveFullScale = Volts(2.0);
    setup.drive->voltage = Volts{};
    tone.second_dBFS = 20.0 * std::log10(0.1232 / 2.0);
    tone.secondShare = 0.999;
    const Reading r = makeReading(tone, setup);
    CHECK(r.drive->voltage.value == Approx(0.1232).epsilon(1e-9));
    CHECK(rounded_dB(r.expected->level_dB) == 93.86);
}

TEST_CASE("a sensed drive that is not this tone, clipped or unsteady is no drive")
{
    auto setup = setupOfSketch();
    setup.driveFullScale = Volts(2.0);
    auto good = toneOfSketch();
    good.second_dBFS = -24.0;
    good.secondShare = 0.999;
    REQUIRE(makeReading(good, setup).drive);
    const auto refuses = [&](const ToneSummary& tone, const std::string& words) {
        const Reading r = makeReading(tone, setup);
        CHECK_FALSE(r.drive);
        CHECK_FALSE(r.expected);
        CHECK_FALSE(r.verdict);
        CHECK(r.measured);
        CHECK(says(r, words));
    };
    auto other = good;
    other.secondShare = 0.02;
    refuses(other, "only 2 % of what is on it is this tone");
    auto silent = good;
    silent.second_dBFS.reset();
    silent.secondShare = 0.0;
    refuses(silent, "connected?");
    auto clipped = good;
    clipped.secondClipped = true;
    refuses(clipped, "clipped");
    auto unsteady = good;
    unsteady.secondSpread_dB = 3.0;
    refuses(unsteady, "moved by");
}

TEST_CASE("outside the range of an ear simulator the reading says so")
{
    auto tone = toneOfSketch();
    tone.frequency = Hertz(12000.0);
    CHECK(says(makeReading(tone, setupOfSketch()), "not ear-like"));
    tone.frequency = Hertz(17000.0);
    CHECK(says(makeReading(tone, setupOfSketch()), "means nothing for an ear"));
}
