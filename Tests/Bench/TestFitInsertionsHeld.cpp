// SPDX-License-Identifier: GPL-3.0-or-later
//
// What an earphone's insertions are held against, and what is known of each.
#include "Bench/FitEarphones.h"
#include "Bench/FitSheet.h"
#include "Bench/SheetText.h"
#include "Bench/SimulatedFit.h"
#include "Bench/SimulatedPapers.h"
#include "Metrology/Repeats.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

namespace {

EarphoneReading readingAt(double level_dB, double expected_dB = 94.6)
{
    EarphoneReading reading{level_dB, expected_dB, 0.8, 0.06, 0.11, 0.05};
    reading.seatedAnew = true;
    return reading;
}

EarphoneReading unratedAt(double level_dB)
{
    EarphoneReading reading;
    reading.level_dB = level_dB;
    return reading;
}

FitEarphone inserted(const std::vector<EarphoneReading>& readings)
{
    auto e = *unreadEarphone(earphoneOnPaper(demoScenario(), 0));
    for (const auto& reading : readings)
        REQUIRE(addInsertion(e, reading).empty());
    return e;
}

FitEarphone givenWhole(const std::optional<double>& u_dB)
{
    return {"P", 96.2, 94.6, 0.8, u_dB, false, {}, {}};
}

Outcome<FitSheet> hadBack(const FitEarphone& e)
{
    FitSheet sheet;
    sheet.input.earphones = {e};
    return tests::sheetFrom(printedJson(jsonOf(sheet), JsonLayout::line));
}

} // namespace

TEST_CASE("each insertion keeps the level that was read, and counts by how far it is from what was expected of it")
{
    auto e = inserted({readingAt(96.18), readingAt(97.76, 96.18), readingAt(96.21)});
    CHECK(e.insertions[0].level_dB == 96.18);
    CHECK(e.insertions[1].level_dB == 97.76);
    CHECK(*e.insertions[1].expected_dB == 96.18);
    CHECK(e.expected_dB == 94.6);
    CHECK(e.says_dB() == Approx((1.58 + 1.58 + 1.61) / 3.0));
    CHECK_FALSE(insertionsDiffer_dB(inserted({readingAt(96.18), readingAt(90.18, 88.6)})));
    e.insertions[2].setAside = "slipped"; // the newest that counts was louder
    followInsertions(e);
    CHECK(e.expected_dB == 96.18);
    CHECK(e.level_dB == Approx(97.76));
    CHECK(*e.u_dB == Approx(std::hypot(0.06, 0.11 / std::sqrt(2.0))));
}

TEST_CASE("an outlier is one by its distance from what was expected of it, not by its drive")
{
    std::vector<EarphoneReading> readings;
    for (const double level_dB : {96.15, 96.19, 96.17, 96.18, 96.16})
        readings.push_back(readingAt(level_dB));
    readings.push_back(readingAt(90.17, 88.6));
    auto input = fitOnPaper(demoScenario());
    const auto outliers = [&] {
        input.earphones[0] = inserted(readings);
        const auto fit = fitCorrection(input);
        REQUIRE(fit);
        return fit->earphones[0].outliers;
    };
    CHECK(outliers().empty());
    readings.back().level_dB = 90.45;
    REQUIRE(outliers().size() == 1);
    CHECK(outliers()[0].index == 5);
}

TEST_CASE("what an earphone without a rating should do with a drive is not known, and its reading joins no other")
{
    auto e = inserted({readingAt(96.18), readingAt(96.22)});
    e.name = "P mine";
    const auto before = e;
    CHECK_THAT(addInsertion(e, unratedAt(97.76)), Catch::StartsWith("what 'P mine' should do with this drive is not "));
    CHECK(e == before);
    for (auto& insertion : e.insertions)
        insertion.setAside = "its tip was torn";
    followInsertions(e);
    CHECK_FALSE(whyNoInsertion(e, unratedAt(97.76)).empty());
    CHECK(whyNoInsertion(e, readingAt(97.76)).empty());
    auto unread = *unreadEarphone(earphoneOnPaper(demoScenario(), 0)); // its level is for 1 V
    CHECK_FALSE(addInsertion(unread, unratedAt(97.76)).empty());
    CHECK(unread.setAside == notReadYet);
}

TEST_CASE("a u that was stated holds until three insertions scatter by more, and is had back with the one set aside")
{
    auto e = givenWhole(0.02);
    for (const double level_dB : {99.18, 94.19, 100.17})
        CHECK(addInsertion(e, unratedAt(level_dB)).empty());
    CHECK(*e.u_dB == Approx(repeatsOf({99.18, 94.19, 100.17})->deviationOfMean()));
    CHECK(e.expected_dB == 94.6);
    CHECK(*e.tolerance_dB == 0.8);
    e.insertions[1].setAside = "slipped";
    followInsertions(e);
    CHECK(*e.u_dB == 0.02);
    auto none = givenWhole({});
    for (const double level_dB : {99.18, 94.19, 100.17})
        CHECK(addInsertion(none, unratedAt(level_dB)).empty());
    CHECK_FALSE(none.u_dB);
    CHECK(hadBack(e)->input.earphones[0] == e);
}

TEST_CASE("an earphone whose rating becomes known is read on, and what was read before is held against what it was")
{
    auto e = givenWhole({});
    CHECK(addInsertion(e, unratedAt(96.20)).empty());
    CHECK(addInsertion(e, readingAt(90.40, 88.6)).empty());
    CHECK(e.says_dB() == Approx((1.6 + 1.8) / 2.0));
    CHECK(e.insertions[0].level_dB == 96.20);
    CHECK_FALSE(e.u_dB); // of the first it is not known
    e.insertions[0].setAside = "on trial";
    followInsertions(e);
    CHECK(*e.u_dB == std::hypot(0.06, 0.11));

    auto whole = givenWhole(0.02);
    CHECK(addInsertion(whole, readingAt(90.40, 88.6)).empty()); // which says all anew
    CHECK(whole.says_dB() == Approx(1.8));
    CHECK(*whole.u_dB == std::hypot(0.06, 0.11));
}

TEST_CASE("u is the largest that insertions state of themselves, and not known as long as one of them states none")
{
    auto unknown = readingAt(96.22), coarser = readingAt(96.20);
    unknown.u_dB.reset();
    coarser.u_dB = 0.09;
    auto e = inserted({readingAt(96.18), unknown});
    CHECK_FALSE(e.u_dB);
    e.insertions[1].setAside = "without the voltmeter";
    followInsertions(e);
    CHECK(*e.u_dB == std::hypot(0.06, 0.11));
    auto other = inserted({unknown, readingAt(96.18)});
    CHECK_FALSE(other.u_dB);
    CHECK(*inserted({coarser, readingAt(96.18)}).u_dB == std::hypot(0.09, 0.11 / std::sqrt(2.0)));
}

TEST_CASE("a tolerance that was corrected stays when the earphone is read again")
{
    auto e = inserted({readingAt(96.18)});
    e.tolerance_dB = 1.5;
    CHECK(addInsertion(e, readingAt(96.20)).empty());
    CHECK(*e.tolerance_dB == 1.5);
}

TEST_CASE("an earphone given whole stays set aside, whatever the reason says")
{
    auto e = givenWhole(0.12);
    e.setAside = everyInsertionAside;
    const auto back = hadBack(e);
    REQUIRE(back);
    CHECK(back->input.earphones[0].setAside == everyInsertionAside);
}

TEST_CASE("what follows from the wildest insertions comes back from a sheet's text")
{
    auto e = inserted({readingAt(-200.0, 1000.0), readingAt(300.0, -1000.0), readingAt(300.0, 1000.0)});
    CHECK(*e.u_dB > 100.0);
    const auto back = hadBack(e);
    REQUIRE(back);
    CHECK(back->input.earphones[0] == e);
}
