// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitRig.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>

using namespace couplet;
using namespace couplet::tests;

namespace {

std::optional<Correction> inSession(FitRig& t)
{
    return t.processor.sessionNow().couplers[1]->correction;
}

bool used(FitRig& t)
{
    return t.wait([](const FitView& v) { return !v.used.empty() || !v.notice.empty(); });
}

} // namespace

TEST_CASE("a correction that is used is the coupler's in library and session, and those that chose it are marked")
{
    FitRig t;
    auto marked = earphoneOnPaper(demoScenario(), 0);
    marked.choseCorrectionOf.clear();
    t.processor.putInSlot(1, std::optional(marked));
    t.fill(collarTable + phonesTable);
    CHECK(t.view().whyNotUse.empty());
    REQUIRE(t.view().canUse);
    t.processor.useCorrection();
    REQUIRE(used(t));
    CHECK(t.view().notice.empty());
    CHECK_THAT(t.view().used, Catch::StartsWith("'left bench' has a correction of 1."));
    const auto kept = t.inLibrary().correction;
    REQUIRE(kept);
    CHECK(kept->value_dB == t.view().fit->correction_dB());
    CHECK(*kept->U_dB == Approx(2.0 * t.view().fit->posterior.all.u_dB));
    CHECK(kept->calibrator == "bench calibrator");
    CHECK_THAT(kept->origin, Catch::StartsWith("fit of 1 fitting and 2 earphones"));
    CHECK_FALSE(kept->date.empty());
    CHECK(inSession(t) == kept);
    CHECK(t.view().stored == kept);
    CHECK(t.marksOf("earphone P") == std::vector<std::string>{"left bench"});
    CHECK(t.marksOf("earphone Q") == std::vector<std::string>{"left bench"});
    CHECK(t.marksOf("earphone R").empty()); // kept aside: it may prove it
    CHECK(t.processor.sessionNow().earphones[1]->choseCorrectionOf == std::vector<std::string>{"left bench"});

    REQUIRE(t.view().canUndo);
    CHECK_THAT(t.view().undoText, Catch::StartsWith("Undo: a correction of 1."));
    t.processor.undoFit();
    REQUIRE(t.wait([](const FitView& v) { return v.used.ends_with("again."); }));
    CHECK_FALSE(t.inLibrary().correction);
    CHECK_FALSE(inSession(t));
    CHECK(t.marksOf("earphone P").empty());
    CHECK(t.processor.sessionNow().earphones[1]->choseCorrectionOf.empty());
    CHECK(t.view().input.fittings.size() == 1); // the readings stay
}

TEST_CASE("a correction used in place of another is undone to that one, unless a third has come since")
{
    FitRig t(plainCoupler("left bench"));
    REQUIRE(t.library.folder.save(plainCoupler("left bench")));
    t.fill(collarTable + phonesTable);
    t.processor.useCorrection();
    REQUIRE(used(t));
    CHECK(t.inLibrary().correction->value_dB != 1.36);
    t.processor.undoFit();
    REQUIRE(t.wait([](const FitView& v) { return v.used.ends_with("again."); }));
    CHECK(t.inLibrary().correction == plainCoupler("").correction);
    CHECK(inSession(t) == plainCoupler("").correction);

    t.processor.useCorrection();
    REQUIRE(t.wait([](const FitView& v) { return v.used.find("now.") != std::string::npos; }));
    auto other = t.inLibrary();
    other.correction->value_dB = 1.5;
    REQUIRE(t.library.folder.save(other));
    t.processor.undoFit();
    REQUIRE(t.wait([](const FitView& v) { return !v.notice.empty(); }));
    CHECK_THAT(t.view().notice, Catch::Contains("has another correction by now, which stays"));
    CHECK(t.inLibrary().correction->value_dB == 1.5);
    t.processor.undoFit(); // the table, then
    CHECK(t.view().input.fittings.empty());
}

TEST_CASE("undoing a use leaves a correction alone that the session was given since")
{
    FitRig t;
    t.fill(collarTable);
    t.processor.useCorrection();
    REQUIRE(used(t));
    auto other = *t.processor.sessionNow().couplers[1];
    other.correction->value_dB = 1.5;
    t.processor.putInSlot(1, std::optional(other));
    t.rig.settle();
    t.processor.undoFit();
    REQUIRE(t.wait([](const FitView& v) { return v.used.find("again.") != std::string::npos; }));
    CHECK_FALSE(t.inLibrary().correction);
    CHECK(inSession(t) == other.correction);
    CHECK_THAT(t.view().used, Catch::Contains("of this session has another correction by now, which stays"));
}

TEST_CASE("a reference from before the correction is named when it is used")
{
    const auto coupler = withReference(FitLibrary::uncorrected());
    FitRig t(coupler);
    REQUIRE(t.library.folder.save(coupler));
    t.fill(collarTable);
    t.processor.useCorrection();
    REQUIRE(used(t));
    CHECK_THAT(t.view().used, Catch::Contains("was taken before this correction") && Catch::EndsWith("."));
}

TEST_CASE("a coupler that only the session has is kept in the library with its correction")
{
    FitRig t;
    REQUIRE(t.library.folder.remove("left bench"));
    t.fill(collarTable);
    t.processor.useCorrection();
    REQUIRE(used(t));
    CHECK(t.view().notice.empty());
    CHECK(t.inLibrary().correction == inSession(t));
}

TEST_CASE("a correction that cannot be kept changes nothing and says why")
{
    FitRig t;
    t.fill(collarTable);
    for (const auto& entry : std::filesystem::directory_iterator(t.library.folder.path()))
        if (contentOfFile(entry.path()).find("\"left bench\"") != std::string::npos)
            writeContent(entry.path(), "{ broken");
    t.processor.useCorrection();
    REQUIRE(used(t));
    CHECK_FALSE(t.view().notice.empty());
    CHECK(t.view().used.empty());
    CHECK_FALSE(inSession(t));
}

TEST_CASE("what must not be used says why in one sentence")
{
    FitRig t;
    const auto why = [&] {
        REQUIRE(t.fitted());
        const auto sentence = t.view().whyNotUse;
        CHECK_FALSE(t.view().canUse);
        t.processor.useCorrection();
        CHECK(t.view().notice == sentence);
        CHECK_FALSE(t.inLibrary().correction);
        return sentence;
    };
    CHECK_THAT(why(), Catch::Contains("No reading counts"));
    t.fill(collarTable + "earphone,E,103,94.6,0.5,0.24\n");
    CHECK_THAT(why(), Catch::Contains("The evidence contradicts itself"));
    t.fill(collarTable);
    CHECK(t.view().canUse);
    t.processor.takeReference();
    CHECK_THAT(why(), Catch::Contains("A reference is being taken"));
    t.processor.cancelReference();
    t.processor.putInSlot(1, std::optional<Coupler>());
    t.rig.settle();
    CHECK_THAT(why(), Catch::Contains("No coupler is chosen"));
}

TEST_CASE("without a certificate or a calibrator nothing is used")
{
    FitRig t;
    auto bare = calibratorOnPaper(demoScenario());
    bare.name = "bare";
    bare.simulated = false;
    bare.tones[0].U_dB.reset();
    REQUIRE(t.library.folder.save(bare));
    REQUIRE(t.wait([](const FitView& v) { return v.calibrators.size() == 2; })); // seen without being told
    CHECK(t.view().calibrator.empty());
    t.fill(phonesTable);
    CHECK_THAT(t.view().whyNotUse, Catch::Contains("No calibrator is chosen"));
    t.fill(collarTable);
    t.processor.chooseFitCalibrator("bare");
    REQUIRE(t.fitted());
    CHECK_THAT(t.view().whyNotUse, Catch::Contains("uncertainty of the calibrator's level is not stated"));
    t.processor.chooseFitCalibrator("bench calibrator");
    REQUIRE(t.fitted());
    CHECK(t.view().canUse);
    CHECK(*t.view().certified_dB == 114.02);
}

TEST_CASE("a microphone that leaves its coupler needs no correction, and one that is there can be taken away")
{
    FitRig t(plainCoupler("left bench"));
    REQUIRE(t.library.folder.save(plainCoupler("left bench")));
    auto marked = *t.library.folder.earphone("earphone P");
    marked.choseCorrectionOf = {"left bench"};
    REQUIRE(t.library.folder.save(marked));
    t.fill(collarTable);
    CHECK_FALSE(t.view().canUseNone);
    t.processor.useNoCorrection();
    CHECK_THAT(t.view().notice, Catch::Contains("The microphone is built in"));
    t.processor.setMicrophoneBuiltIn(false);
    REQUIRE(t.fitted());
    const auto notes = t.view().words.notes;
    CHECK(std::any_of(notes.begin(), notes.end(), [](const std::string& note) {
        return note.find("no correction is needed") != std::string::npos;
    }));
    REQUIRE(t.view().canUseNone);
    t.processor.useNoCorrection();
    REQUIRE(used(t));
    CHECK(t.view().used == "'left bench' has no correction now.");
    CHECK_FALSE(t.inLibrary().correction);
    CHECK_FALSE(inSession(t));
    CHECK(t.marksOf("earphone P").empty());
    t.processor.undoFit();
    REQUIRE(t.wait([](const FitView& v) { return v.used.ends_with("again."); }));
    CHECK(t.inLibrary().correction == plainCoupler("").correction);
    CHECK(t.marksOf("earphone P") == std::vector<std::string>{"left bench"});
}

TEST_CASE("the simulated bench has a sheet of its own with the sketch's figures, and a coupler of its own")
{
    FitRig t;
    t.processor.addFitReading({FitKind::through, 0}, 113.0);
    t.processor.simulate(true, {OnCoupler::What::calibrator});
    t.play(8.0);
    CHECK(t.view().simulated);
    CHECK(t.view().input.through.readings.empty());
    CHECK(t.view().calibrators == std::vector<std::string>{"bench calibrator"});
    REQUIRE(t.view().canFillFromSimulation);
    t.processor.fillFitFromSimulation();
    REQUIRE(t.fitted());
    CHECK(t.view().words.headline == "Take 1.44 dB off this calibrator: its 114.02 dB stands for 112.58 dB at the "
                                     "coupler microphone.");
    CHECK(t.view().words.interval == "Between 0.95 and 2.05 dB (95 %).");
    CHECK(*t.view().tone_dB == Approx(113.31).margin(0.02)); // as those through the coupler
    const auto before = t.view().stored;
    t.processor.useCorrection();
    CHECK_THAT(t.view().used, Catch::StartsWith("'bench coupler' has a correction of 1.44 dB"));
    CHECK_THAT(t.view().stored->origin, Catch::StartsWith("fit of 4 fittings and 3 earphones"));
    CHECK_FALSE(t.inLibrary().correction);
    CHECK_FALSE(t.library.folder.holdsCoupler("bench coupler"));
    t.processor.undoFit();
    CHECK(t.view().stored == before);
    CHECK(t.state().find("silicone") == std::string::npos); // invented readings are no session's

    t.processor.simulate(false, {});
    t.rig.settle();
    CHECK_FALSE(t.view().simulated);
    CHECK(t.view().input.through.readings.size() == 1);
    CHECK(t.view().undoText == "Undo: reading 113.00 dB");
}
