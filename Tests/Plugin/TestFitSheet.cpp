// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitRig.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

const FitTarget collar{FitKind::fitting, 0}, through{FitKind::through, 0};

} // namespace

TEST_CASE("readings are typed, changed, set aside and had back, and the fit follows")
{
    FitRig t;
    t.processor.addFitting("collar");
    for (const double level_dB : {114.65, 114.69, 114.72, 117.0})
        t.processor.addFitReading(collar, level_dB);
    for (const double level_dB : {113.26, 113.30, 113.34})
        t.processor.addFitReading(through, level_dB);
    REQUIRE(t.fitted());
    CHECK(t.view().fit->fittings[0].count == 4);
    t.processor.setFitReadingAside(collar, 3, "the cable moved");
    REQUIRE(t.fitted());
    CHECK(t.view().fit->fittings[0].count == 3);
    CHECK(t.view().fit->fittings[0].setAside == 1);
    t.processor.setFitReadingAside(collar, 3, "");
    t.processor.changeFitReading(collar, 3, 114.78);
    REQUIRE(t.fitted());
    CHECK(t.view().fit->fittings[0].mean_dB == Approx(114.71));
    CHECK(t.view().undoText == "Undo: reading 114.78 dB");
    t.processor.undoFit();
    CHECK(t.view().input.fittings[0].readings[3].level_dB == 117.0);
    t.processor.undoFit();
    CHECK(t.view().input.fittings[0].readings[3].setAside == "the cable moved");
    for (int n = 0; n < 9; ++n)
        t.processor.undoFit();
    CHECK(t.view().input.fittings.empty());
    CHECK_FALSE(t.view().canUndo);
    CHECK_FALSE(t.view().fit);
}

TEST_CASE("fittings and earphones are named once each, and what cannot be done says so and changes nothing")
{
    FitRig t;
    t.processor.addFitting("");
    t.processor.addFitting("cork");
    CHECK(t.view().input.fittings[0].name == "fitting 1");
    const auto before = t.view().input;
    const auto refused = [&](const std::function<void(Processor&)>& act) {
        act(t.processor);
        CHECK(t.view().input == before);
        return t.view().notice;
    };
    CHECK_THAT(refused([](auto& p) { p.addFitting("cork"); }), Catch::Contains("There is a fitting 'cork' already"));
    CHECK_THAT(refused([](auto& p) { p.renameFitting(0, "cork"); }), Catch::Contains("already"));
    CHECK_THAT(refused([](auto& p) { p.renameFitting(0, ""); }), Catch::Contains("1 to 120 characters"));
    CHECK_THAT(refused([](auto& p) { p.renameFitting(7, "x"); }), Catch::Contains("not there any more"));
    CHECK_THAT(refused([](auto& p) { p.removeFitting(7); }), Catch::Contains("not there any more"));
    CHECK_THAT(refused([](auto& p) { p.addFitReading(collar, 1e6); }), Catch::Contains("200 to 300 dB"));
    CHECK_THAT(refused([](auto& p) { p.addFitReading(through, std::nan("")); }), Catch::Contains("200 to 300 dB"));
    CHECK_THAT(refused([](auto& p) { p.changeFitReading(collar, 3, 90.0); }), Catch::Contains("not there any more"));
    CHECK_THAT(refused([](auto& p) { p.setFitReadingAside(through, 0, "x"); }), Catch::Contains("not there any more"));
    CHECK_THAT(refused([](auto& p) { p.addFitEarphone("earphone X"); }), Catch::Contains("no earphone 'earphone X'"));
    CHECK_THAT(refused([](auto& p) {
                   p.addFitEarphone(FitEarphone{"E", 94.0, 93.0, -1.0, {}, false, {}, {}});
               }),
               Catch::Contains("tolerance and uncertainty") || Catch::Contains("Tolerance and uncertainty"));
    CHECK_THAT(refused([](auto& p) { p.removeFitEarphone(0); }), Catch::Contains("not there any more"));
    CHECK_THAT(refused([](auto& p) { p.chooseFitTarget({FitKind::earphone, 0}); }), Catch::Contains("no such group"));
    CHECK_THAT(refused([](auto& p) { p.chooseFitCalibrator("none such"); }), Catch::Contains("no calibrator"));
    CHECK_THAT(refused([](auto& p) { p.setFitUncertainties(0.1, 7.0); }), Catch::Contains("0 to 3 dB"));
    CHECK_THAT(refused([](auto& p) { p.askWhatIf(-1.0); }), Catch::Contains("above 0 dB"));
    CHECK_THAT(refused([](auto& p) { p.pasteFitTable("no table"); }), Catch::Contains("What was pasted, line 1"));
    CHECK_THAT(refused([](auto& p) { p.fillFitFromSimulation(); }), Catch::Contains("simulated bench on first"));
    t.processor.renameFitting(0, "shim");
    CHECK(t.view().notice.empty());
    CHECK(t.view().input.fittings[0].name == "shim");
}

TEST_CASE("an earphone is added from the library or whole, typed, kept aside, set aside and removed")
{
    FitRig t;
    t.fill(collarTable);
    t.processor.addFitEarphone("earphone P");
    t.processor.addFitEarphone(FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, false, {}, {}});
    REQUIRE(t.fitted());
    CHECK_FALSE(t.view().fit->earphones[0].takesPart);
    CHECK(t.view().fit->earphones[1].takesPart);
    auto read = t.view().input.earphones[0];
    read.level_dB = 120.1; // for 1 V
    CHECK(t.processor.changeFitEarphone(0, read).empty());
    CHECK(t.view().input.earphones[0].says_dB() == Approx(1.4));
    CHECK(t.view().input.earphones[0].setAside.empty());
    t.processor.keepFitEarphoneAside(1, true);
    t.processor.setFitEarphoneAside(0, "its tip was torn");
    REQUIRE(t.fitted());
    CHECK(t.view().fit->earphones[1].keptAside);
    CHECK_FALSE(t.view().fit->earphones[1].takesPart);
    CHECK(t.view().input.earphones[0].setAside == "its tip was torn");
    t.processor.chooseFitTarget({FitKind::earphone, 1});
    t.processor.removeFitEarphone(1);
    CHECK(t.view().target == FitTarget{FitKind::earphone, 0});
    CHECK(t.view().input.earphones.size() == 1);
    CHECK(t.view().undoText == "Undo: removal of 'E'");
}

TEST_CASE("the mark of an earphone that was not read is no reason of the user's")
{
    FitRig t;
    t.processor.addFitEarphone(FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, false, {}, {}});
    const auto before = t.view().input;
    const auto refused = [&] {
        CHECK(t.view().input == before);
        return t.view().notice;
    };
    t.processor.setFitEarphoneAside(0, notReadYet);
    CHECK_THAT(refused(), Catch::Contains("in other words"));
    t.processor.addFitEarphone(FitEarphone{"F", 95.2, 94.0, 1.0, 0.12, false, notReadYet, {}});
    CHECK_THAT(refused(), Catch::Contains("in other words"));
    t.processor.pasteFitTable(
        "kind,name,level_db,expected_db,tolerance_db,set_aside\nearphone,F,95,94,1,not read yet\n");
    CHECK_THAT(refused(), Catch::Contains("'F' in the table cannot be taken: 'not read yet' marks"));
    t.processor.setFitEarphoneAside(0, "not read with care");
    CHECK(t.view().input.earphones[0].setAside == "not read with care");
}

TEST_CASE("the next group is one step away, round and round")
{
    FitRig t;
    t.fill("direct,a,114\ndirect,b,114\nthrough,,113\nearphone,E,95,94,1,0.2\n");
    const FitTarget round[] = {{FitKind::fitting, 0},
                               {FitKind::fitting, 1},
                               {FitKind::through, 0},
                               {FitKind::earphone, 0},
                               {FitKind::fitting, 0}};
    CHECK(t.view().target == round[0]);
    for (int n = 1; n < 5; ++n) {
        t.processor.nextFitTarget();
        CHECK(t.view().target == round[n]);
    }
    t.processor.chooseFitTarget({FitKind::fitting, 1});
    t.processor.removeFitting(1);
    CHECK(t.view().target == round[0]);
}

TEST_CASE("a table is read from a file, in place of what was there, and undone")
{
    FitRig t;
    t.processor.addFitReading(collar, 90.0);
    const auto file = t.library.scratch.path / "readings.csv";
    writeContent(file, "kind;name;level_db\ndirect;collar;114,65\ndirect;collar;114,70\nthrough;;113,3\n");
    t.processor.readFitTable(file);
    REQUIRE(t.wait([](const FitView& v) { return v.input.through.readings.size() == 1; }));
    CHECK(t.view().input.fittings[0].readings[0].level_dB == 114.65);
    CHECK(t.view().input.settings.calibrator == "bench calibrator");
    t.processor.undoFit();
    CHECK(t.view().input.fittings[0].readings[0].level_dB == 90.0);
    t.processor.readFitTable(t.library.scratch.path / "none.csv");
    REQUIRE(t.wait([](const FitView& v) { return !v.notice.empty(); }));
    CHECK_THAT(t.view().notice, Catch::Contains("none.csv") && Catch::Contains("could not be read"));
    t.processor.clearFit();
    CHECK(t.view().input.fittings.empty());
    CHECK(t.view().input.settings.calibrator == "bench calibrator");
}

TEST_CASE("a fit's readings are the session's: saved, opened elsewhere, and saved again with the same bytes")
{
    std::string saved;
    FitView before;
    {
        FitRig t(withReference(FitLibrary::uncorrected()));
        t.fill(collarTable + phonesTable);
        t.processor.setFitReadingAside(collar, 1, "a lorry");
        t.processor.setFitUncertainties(0.2, 0.05);
        t.processor.chooseFitTarget(through);
        t.processor.captureFitReadings(true);
        REQUIRE(t.readOne(0.0));
        REQUIRE(t.fitted());
        before = t.view();
        saved = t.state();
        CHECK(t.state() == saved);
    }
    FitRig t;
    t.restore(saved);
    CHECK(t.state() == saved);
    CHECK(t.view().input == before.input);
    CHECK(t.view().certified_dB == before.certified_dB);
    CHECK(t.view().scaleText == before.scaleText);
    CHECK_FALSE(t.view().canUndo);
    REQUIRE(t.fitted());
    CHECK(t.view().fit->correction_dB() == before.fit->correction_dB());
}

TEST_CASE("a session whose fit is broken opens with one sentence, and hands the readings back as they came")
{
    FitRig t;
    t.fill(collarTable);
    auto broken = t.state();
    const std::string piece = "\"level_dB\": 114.69";
    REQUIRE(broken.find(piece) != std::string::npos);
    broken.replace(broken.find(piece), piece.size(), "\"level_dB\": \"114.69\"");

    FitRig other;
    other.processor.putInSlot(1, std::optional<Coupler>());
    other.restore(broken);
    CHECK_THAT(other.rig.view().stateNotice, Catch::Contains("fit.fittings[0].readings[1].level_dB") &&
                                                 Catch::Contains("The rest of the session is there"));
    CHECK(other.processor.sessionNow().couplers[1]->name == "left bench");
    CHECK(other.view().input.fittings.empty());
    CHECK(other.state() == broken);
    other.processor.addFitReading(through, 113.0);
    CHECK(other.state() != broken);
    CHECK(other.processor.sessionNow().unreadFit.empty());

    auto noObject = t.state();
    const auto at = noObject.find("\"fit\": {");
    const auto end = noObject.find("\n  }", at);
    noObject.replace(at, end + 4 - at, "\"fit\": 7");
    other.restore(noObject);
    CHECK_THAT(other.rig.view().stateNotice, Catch::Contains("fit is a number"));
    CHECK(other.state() == noObject);
}

TEST_CASE("more readings than a session keeps are refused before they are lost")
{
    FitRig t;
    std::string table = "kind\tname\tlevel_db\tset_aside\n";
    for (int n = 0; n < 9000; ++n)
        table += "through\t\t113.3\t" + std::string(190, 'x') + "\n";
    t.processor.pasteFitTable(table);
    REQUIRE(t.wait([](const FitView& v) { return !v.notice.empty(); }));
    CHECK_THAT(t.view().notice, Catch::Contains("more readings than a session keeps"));
    CHECK(t.view().input.through.readings.empty());
}
