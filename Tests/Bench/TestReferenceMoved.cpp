// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ChainHistory.h"
#include "Bench/HeardTones.h"
#include "Bench/LiveCalibrator.h"
#include "Bench/QuickCheck.h"
#include "Bench/Reading.h"
#include "Bench/ReferenceHistory.h"

#include <catch2/catch.hpp>

#include <algorithm>

// References that moved, and corrections that changed: what the chain did is told apart from what a correction did.

using namespace couplet;
using namespace couplet::tests;

namespace {

ToneSummary tone(double level_dBFS = -9.31, double frequency_Hz = 1000.04)
{
    auto s = calibratorHeard(level_dBFS);
    s.frequency = Hertz(frequency_Hz);
    return s;
}

std::string all(const std::vector<std::string>& sentences)
{
    std::string text;
    for (const auto& s : sentences)
        text += s + "\n";
    return text;
}

ReferenceOutcome taken(const ReferenceSetup& setup, double level_dBFS = -9.31)
{
    const auto outcome = takeReference(tone(level_dBFS), setup);
    INFO((outcome ? std::string() : outcome.fault().sentence));
    REQUIRE(outcome);
    return *outcome;
}

// Taken on this day of May and kept, whatever it came to.
void keepOne(ReferenceSetup& setup, int day, double level_dBFS = -9.31)
{
    setup.now = "2026-05-" + std::string(day < 10 ? "0" : "") + std::to_string(day) + "T10:00:00Z";
    setup.coupler.references.push_back(taken(setup, level_dBFS).kept(setup));
}

Correction typedCorrection(double value_dB)
{
    auto c = *couplerOnPaper(demoScenario()).correction;
    c.value_dB = value_dB;
    c.chosenBy.emplace();
    return c;
}

Setup readingSetup(const Coupler& coupler, std::size_t earphone)
{
    Setup s;
    s.coupler = coupler;
    s.earphone = earphoneOnPaper(demoScenario(), earphone);
    s.drive = driveOnPaper(demoScenario(), earphone);
    s.now = "2026-05-03T14:00:00Z";
    return s;
}

} // namespace

TEST_CASE("a reference beyond the usual limits says by how much, and one within them does not")
{
    auto setup = setupOnPaper();
    CHECK_FALSE(taken(setup).moved_dB); // the first has nothing to move from
    keepOne(setup, 1);
    CHECK_FALSE(taken(setup, -9.60).moved_dB);
    const auto moved = taken(setup, -25.31);
    REQUIRE(moved.moved_dB);
    CHECK(*moved.moved_dB == Approx(16.0).margin(1e-9).epsilon(0.0));
    CHECK(moved.fitToUse); // the tone itself is a good one
    CHECK_THAT(whatToCheck(moved), Catch::Contains("moved by +16.00 dB") && Catch::Contains("0.30 dB is usual"));
    CHECK(whatToCheck(taken(setup)).empty());
    CHECK(moved.kept(setup).moved_dB == moved.moved_dB);
}

TEST_CASE("references in a row without lifting make no honest seat a move")
{
    auto setup = setupOnPaper();
    for (int day = 1; day <= 6; ++day)
        keepOne(setup, day, -9.31 + 0.001 * (day % 2));
    const auto seated = taken(setup, -9.43); // 0.12 dB is within two seatings' 2 sqrt(2) 0.05 dB
    CHECK(seated.history.allowedChange_dB < 0.03);
    CHECK_FALSE(seated.moved_dB);
    CHECK_THAT(all(seated.notes), Catch::Contains("moved by +0.12 dB")); // said all the same
    CHECK(taken(setup, -9.46).moved_dB);
    setup.coupler.judged.seating_dB = 0.01;
    CHECK(taken(setup, -9.43).moved_dB);
}

TEST_CASE("after a step that was meant the next references are compared with it, and the chart counts from it")
{
    auto setup = setupOnPaper();
    for (int day = 1; day <= 6; ++day)
        keepOne(setup, day, -9.31 + 0.02 * (day % 2));
    for (int day = 7; day <= 8; ++day) // 6 dB more gain, kept although moved
        keepOne(setup, day, -3.31 + 0.02 * (day % 2));
    CHECK(setup.coupler.references[6].moved_dB);
    CHECK_FALSE(setup.coupler.references[7].moved_dB); // compared with the one after the step
    CHECK(runBegin(setup.coupler.references) == 6);
    const auto next = taken(setup, -3.40);
    CHECK_FALSE(next.moved_dB);
    CHECK(next.history.allowedChange_dB == 0.3); // the scatter of before does not count, nor does the step
    const auto history = historyOf(setup.coupler, "2026-05-08T12:00:00Z");
    CHECK(history.chart.counted == 2);
    CHECK(*history.chart.mean_dB == Approx(121.97 - 6.0).margin(0.02).epsilon(0.0));
    CHECK_FALSE(history.points[0].outside);
    CHECK_THAT(all(history.notes), Catch::Contains("2026-05-07T10:00:00Z was kept although it had moved by \u2212"));
    CHECK(taken(setup, -9.31).moved_dB); // back again is a move too
}

TEST_CASE("a step that is set aside begins no run, unless what follows stands on it")
{
    auto setup = setupOnPaper();
    keepOne(setup, 1);
    keepOne(setup, 2, -25.31); // an earphone's tone, kept in error
    setup.coupler.references[1].setAside = "no calibrator";
    CHECK(runBegin(setup.coupler.references) == 0);
    CHECK_FALSE(taken(setup).moved_dB);
    keepOne(setup, 3);
    CHECK(runBegin(setup.coupler.references) == 0);

    auto gain = setupOnPaper();
    keepOne(gain, 1);
    keepOne(gain, 2, -3.31); // the gain was changed, but this seat was loose
    keepOne(gain, 3, -3.20);
    gain.coupler.references[1].setAside = "loose";
    CHECK(runBegin(gain.coupler.references) == 1);
    CHECK_FALSE(taken(gain, -3.20).moved_dB);
}

TEST_CASE("a new correction moves the offset and not the chain")
{
    auto setup = setupOnPaper();
    for (int day = 1; day <= 6; ++day)
        keepOne(setup, day, -9.31 + 0.01 * (day % 2));
    setup.coupler.correction = typedCorrection(0.50); // found anew: 1.36 before
    const auto outcome = taken(setup);
    CHECK(outcome.offset->level_dB == Approx(121.97 + 0.86).margin(1e-9).epsilon(0.0));
    CHECK_FALSE(outcome.moved_dB);
    CHECK(*outcome.history.change_dB == Approx(0.0).margin(0.011).epsilon(0.0));
    CHECK(*outcome.correctionChange_dB == Approx(0.86).margin(1e-9).epsilon(0.0));
    CHECK_THAT(all(outcome.notes), Catch::Contains("is 0.50 dB and was 1.36 dB") &&
                                       Catch::Contains("that alone moves the offset by +0.86 dB"));
    const auto check = quickCheck(tone(), setup);
    CHECK(check.verdict == QuickCheck::Verdict::holds);
    CHECK(check.causes.empty());
    CHECK_THAT(check.correctionNote, Catch::Contains("moves by +0.86 dB"));
    keepOne(setup, 7);
    const auto history = historyOf(setup.coupler, "2026-05-07T12:00:00Z");
    CHECK(*history.chart.deviation_dB < 0.01);
    CHECK_FALSE(history.points.back().outside);
    CHECK_FALSE(history.chart.drift->isReal());
    CHECK(history.points.front().chain_dB == Approx(history.points.front().offset_dB + 0.86));
    CHECK_THAT(all(history.notes), Catch::Contains("6 of the references were taken with another correction"));

    setup.coupler.correction = typedCorrection(1.36 + 6.02); // a gain's size, by the correction alone
    CHECK(quickCheck(tone(), setup).causes.empty());
    const auto gain = quickCheck(tone(-9.31 - 6.02), setup);
    CHECK(gain.verdict == QuickCheck::Verdict::moved);
    CHECK_THAT(gain.causes.front(), Catch::StartsWith("the input's gain"));
}

TEST_CASE("another calibrator's correction is no change of the chain, and its offset is compared as it is")
{
    auto setup = setupOnPaper();
    keepOne(setup, 1);
    // Another calibrator loses 0.80 dB to this coupler and 0.56 dB less is heard to be lost: the same offset.
    setup.calibrator.name = "second calibrator";
    setup.correction = typedCorrection(0.80);
    setup.correction->calibrator = "second calibrator";
    const auto outcome = taken(setup, -9.31 + 0.56);
    CHECK(*outcome.history.change_dB == Approx(0.0).margin(1e-9));
    CHECK_FALSE(outcome.moved_dB);
}

TEST_CASE("a reading says that the reference used another correction, or was kept although it moved")
{
    auto setup = setupOnPaper();
    keepOne(setup, 1);
    keepOne(setup, 2, -25.31);
    const auto earphone = tone(-28.05, 500.01);
    auto notes = all(makeReading(earphone, readingSetup(setup.coupler, 3)).notes);
    CHECK_THAT(notes, Catch::Contains("kept although it had moved by +16.00 dB") && !Catch::Contains("correction"));
    setup.coupler.references.pop_back();
    setup.coupler.correction = typedCorrection(1.00);
    notes = all(makeReading(earphone, readingSetup(setup.coupler, 3)).notes);
    CHECK_THAT(notes, Catch::Contains("used another correction: it was 1.36 dB and is now 1.00 dB") &&
                          !Catch::Contains("although"));
    setup.coupler.correction->value_dB = 1.363; // the same in two decimals
    CHECK_FALSE(correctionChanged(setup.coupler, setup.coupler.references.back()));
    setup.coupler.correction = typedCorrection(0.30);
    setup.coupler.correction->frequency = Hertz(250.0); // of another tone
    CHECK_FALSE(correctionChanged(setup.coupler, setup.coupler.references.back()));
    setup.coupler.correction.reset();
    CHECK_THAT(*correctionChanged(setup.coupler, setup.coupler.references.back()), Catch::Contains("is now none"));
}

TEST_CASE("agreement is no proof by who chose the reference's correction, not the coupler's newest")
{
    auto setup = setupOnPaper(); // earphones P, Q and R chose its correction
    keepOne(setup, 1);
    const auto took = [&](std::size_t earphone, bool marked) {
        auto s = readingSetup(setup.coupler, earphone);
        s.earphone->choseCorrectionOf.clear();
        if (marked)
            s.earphone->choseCorrectionOf = {setup.coupler.name};
        return makeReading(tone(-28.05, 500.01), s).tookPartInCorrection;
    };
    setup.coupler.correction = typedCorrection(1.00);
    setup.coupler.correction->chosenBy = {"earphone S"}; // found anew, by S alone, after the reference
    CHECK(took(0, false));                               // P is in the reference's, whatever its mark says now
    CHECK_FALSE(took(3, true));
    keepOne(setup, 2);
    CHECK_FALSE(took(0, false));
    CHECK(took(3, true));
    setup.coupler.references.back().correction->chosenBy.reset(); // not recorded: the marks tell
    CHECK(took(0, true));
    CHECK_FALSE(took(0, false));
    setup.coupler.references.back().correction.reset();
    setup.coupler.references.back().addends = {{"certified level, 1 kHz", 114.02}}; // bare: nobody chose
    CHECK_FALSE(took(0, true));
}

TEST_CASE("a correction whose frequency or calibrator is not recorded is never used in silence")
{
    auto setup = setupOnPaper();
    REQUIRE(taken(setup).expanded);
    setup.coupler.correction->frequency.reset();
    auto outcome = taken(setup);
    CHECK(outcome.offset->level_dB == Approx(121.97).margin(1e-9).epsilon(0.0));
    CHECK_FALSE(outcome.expanded);
    CHECK_THAT(all(outcome.notes), Catch::Contains("at which frequency the coupler's correction was found"));
    setup.correction = setup.coupler.correction; // typed for the tone that plays
    CHECK(taken(setup).expanded);
    CHECK(taken(setup).kept(setup).correction->frequency == Hertz(1000.0));

    auto unknown = setupOnPaper();
    REQUIRE(unknown.coupler.correction->includesCalibrator);
    const double with_dB = taken(unknown).expanded->u_dB;
    unknown.coupler.correction->calibrator.clear();
    outcome = taken(unknown);
    // By hand: the certificate's U of 0.15 dB, k = 2, joins in quadrature.
    CHECK(outcome.expanded->u_dB == Approx(std::hypot(with_dB, 0.075)).epsilon(1e-9));
    CHECK_THAT(all(outcome.notes), Catch::Contains("certificate counts besides"));
}

TEST_CASE("a stated level names a certified one and never replaces it")
{
    auto setup = setupOnPaper();
    setup.calibrator.tones = {{Hertz(1000.0), 94.03, 0.15}, {Hertz(1000.0), 114.02, 0.15}};
    for (const double level_dB : {114.02, 114.0}) {
        setup.level_dB = level_dB;
        const auto outcome = taken(setup);
        CHECK(outcome.certified.level_dB == 114.02);
        CHECK((all(outcome.notes).find("certified as 114.02 dB, which counts") != std::string::npos) ==
              (level_dB == 114.0));
    }
    for (const double level_dB : {113.0, 114.5, 115.5, 113.9, 112.4}) {
        setup.level_dB = level_dB;
        const auto outcome = takeReference(tone(), setup);
        CAPTURE(level_dB);
        REQUIRE_FALSE(outcome);
        CHECK_THAT(outcome.fault().sentence, Catch::Contains("its nearest level is 114.02 dB"));
    }
    setup.level_dB.reset();
    setup.frequency = Hertz(250.0);
    CHECK_THAT(takeReference(tone(), setup).fault().sentence, Catch::Contains("has no tone at 250 Hz"));
}

TEST_CASE("a pressure law that is not stated is said of a reference, and one that is stated is not")
{
    auto setup = setupOnPaper();
    CHECK_THAT(all(taken(setup).notes), !Catch::Contains("static pressure"));
    setup.calibrator.pressureLaw = {};
    auto outcome = taken(setup);
    CHECK(outcome.expanded);
    CHECK_THAT(all(outcome.notes), Catch::Contains("not stated: the offset holds at 101.325 kPa"));
    setup.pressure = Kilopascals(97.0);
    outcome = taken(setup);
    CHECK_FALSE(outcome.expanded);
    CHECK_THAT(all(outcome.notes), Catch::Contains("nothing was corrected for the pressure") &&
                                       Catch::Contains("a piston source is off by 0.38 dB"));
}
