// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitRig.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;
using namespace couplet::tests;

namespace {

const double third = 1.0 / 3.0; // no text of a few decimals is that

} // namespace

TEST_CASE("what the rating promises of an earphone that was not read is for the drive on the bench")
{
    FitRig t;
    t.processor.addFitEarphone(FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, false, {}, {}});
    t.processor.addFitEarphone("earphone P");
    REQUIRE(t.view().promises.size() == 2);
    CHECK_FALSE(t.view().promises[1]); // no drive is known
    CHECK(t.view().input.earphones[1].expected_dB == Approx(118.70));
    t.processor.setDrive(Volts(0.0624));
    REQUIRE(t.view().promises[1]);
    CHECK(t.view().promises[1]->expected_dB == Approx(118.70 + 20.0 * std::log10(0.0624)).margin(0.001));
    CHECK(t.view().promises[1]->drive == "62.4 mV");
    CHECK_FALSE(t.view().promises[0]); // read
    t.processor.setDrive({});
    CHECK_FALSE(t.view().promises[1]);
}

TEST_CASE("an earphone of the library whose level is typed counts with all that was stated of it")
{
    FitRig t;
    t.fill(collarTable);
    t.processor.addFitEarphone("earphone P");
    t.processor.setDrive(Volts(0.0624));
    auto typed = t.view().input.earphones.at(0);
    typed.expected_dB = t.view().promises.at(0)->expected_dB;
    typed.level_dB = typed.expected_dB + 1.5;
    typed.u_dB = 0.12;
    CHECK(t.processor.changeFitEarphone(0, typed).empty());
    typed.setAside.clear();
    CHECK(t.view().input.earphones.at(0) == typed);
    CHECK_FALSE(t.view().promises.at(0));
    CHECK(t.view().undoText == "Undo: correction of 'earphone P'");
    REQUIRE(t.fitted());
    CHECK(t.view().fit->earphones.at(0).takesPart);
    t.processor.undoFit();
    CHECK(t.view().input.earphones.at(0).setAside == notReadYet);
}

TEST_CASE("a level typed replaces an earphone's insertions, and any other correction leaves them")
{
    FitRig t(withReference(FitLibrary::uncorrected()));
    t.processor.addFitEarphone("earphone P");
    t.processor.chooseFitTarget({FitKind::earphone, 0});
    t.processor.setDrive(demoScenario().earphones[0].drive);
    t.rig.set(ParameterId::meterAccuracy, 0.5);
    t.processor.captureFitReadings(true);
    REQUIRE(t.readOne(0.0, OnCoupler::What::earphone));
    const auto read = t.view().input.earphones.at(0);
    REQUIRE(read.insertions.size() == 1);
    auto changed = read;
    changed.u_dB = third;
    changed.u_stated_dB = third; // whole
    changed.u_shared_dB = 0.0;   // and nothing is known of its parts
    CHECK(t.processor.changeFitEarphone(0, changed).empty());
    CHECK(t.view().input.earphones.at(0) == changed);
    changed.level_dB = read.level_dB + third;
    CHECK(t.processor.changeFitEarphone(0, changed).empty());
    changed.insertions.clear();
    changed.u_stated_dB.reset();
    CHECK(t.view().input.earphones.at(0) == changed);
    t.processor.undoFit();
    t.processor.undoFit();
    CHECK(t.view().input.earphones.at(0) == read);

    t.processor.setFitReadingAside({FitKind::earphone, 0}, 0, "slipped");
    REQUIRE(t.view().input.earphones.at(0).setAside == everyInsertionAside);
    CHECK(t.processor.changeFitEarphone(0, read).empty()); // the same level, typed
    CHECK(t.view().input.earphones.at(0).setAside.empty());
    CHECK(t.view().input.earphones.at(0).insertions.empty());
}

TEST_CASE("an earphone that is corrected stays aside with its reason, and keeps to its own name")
{
    FitRig t;
    t.processor.addFitEarphone(FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, true, "its tip was torn", {}});
    t.processor.addFitEarphone(FitEarphone{"F", 95.2, 94.0, 1.0, 0.12, false, {}, {}});
    const FitEarphone typed{"E left", third, 2.0 * third, third, {}, false, {}, {}};
    CHECK(t.processor.changeFitEarphone(0, typed).empty());
    const auto& now = t.view().input.earphones[0];
    CHECK(now.name == "E left");
    CHECK(now.level_dB == third);
    CHECK(now.expected_dB == 2.0 * third);
    CHECK(now.tolerance_dB == third);
    CHECK_FALSE(now.u_dB);
    CHECK(now.keptAside);
    CHECK(now.setAside == "its tip was torn");
}

TEST_CASE("what is typed and cannot be taken is answered with the sentence, and changes nothing")
{
    FitRig t;
    t.processor.addFitEarphone(FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, false, {}, {}});
    t.processor.addFitEarphone(FitEarphone{"F", 95.2, 94.0, 1.0, 0.12, false, {}, {}});
    t.processor.addFitting("collar");
    const auto before = t.view().input;
    const FitEarphone taken{"F", 95.0, 94.0, {}, {}, false, {}, {}};
    FitEarphone far = taken;
    far.name = "E";
    far.level_dB = 301.0;
    auto& p = t.processor;
    const std::string long_name(121, 'x');
    const std::pair<std::string, const char*> answers[] = {
        {p.addFitEarphone(taken), "'F' is there already"},
        {p.changeFitEarphone(0, taken), "'F' is there already"},
        {p.changeFitEarphone(0, far), "200 to 300 dB"},
        {p.changeFitEarphone(2, taken), "not there any more"},
        {p.addFitting("collar"), "There is a fitting 'collar' already"},
        {p.renameFitting(0, long_name), "1 to 120 characters"},
        {p.addFitReading({FitKind::fitting, 0}, 301.0), "200 to 300 dB"},
        {p.changeFitReading({FitKind::fitting, 0}, 0, 114.0), "not there any more"},
        {p.setFitReadingAside({FitKind::through, 0}, 0, "x"), "not there any more"},
        {p.setFitEarphoneAside(0, notReadYet), "in other words"},
        {p.setFitUncertainties(0.1, 3.5), "0 to 3 dB"}};
    for (const auto& [answer, part] : answers)
        CHECK_THAT(answer, Catch::Contains(part) && Catch::EndsWith("."));
    CHECK(t.view().input == before);
    CHECK(p.addFitReading({FitKind::fitting, 0}, 114.0).empty());
}
