// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitRig.h"

#include <cmath>

using namespace couplet;
using namespace couplet::tests;

namespace {

constexpr FitTarget phone{FitKind::earphone, 0};

struct Inserted : FitRig
{
    Inserted() : FitRig(withReference(FitLibrary::uncorrected()))
    {
        processor.addFitEarphone("earphone P");
        processor.chooseFitTarget(phone);
        processor.setDrive(demoScenario().earphones[0].drive);
        rig.set(ParameterId::meterAccuracy, 0.5);
        processor.captureFitReadings(true);
        for (const double louder_dB : {0.0, -3.0, 0.1})
            REQUIRE(readOne(louder_dB, OnCoupler::What::earphone));
        noticed = view().notice;
        processor.captureFitReadings(false);
    }
    std::string noticed; // when the last was kept
    bool readAgain()
    {
        processor.captureFitReadings(true);
        return readOne(0.0, OnCoupler::What::earphone);
    }
    FitEarphone first() { return view().input.earphones.at(0); }
    void setAside(std::size_t insertion, const std::string& reason)
    {
        processor.setFitReadingAside(phone, insertion, reason);
    }
};

} // namespace

TEST_CASE("captured insertions are set aside one by one with a reason, undone and put back")
{
    Inserted t;
    const auto before = t.first();
    REQUIRE(before.insertions.size() == 3);
    CHECK(before.insertions[1].seatedAnew); // it was seen to be taken out
    CHECK(before.insertions[2].seatedAnew);
    CHECK(*before.insertions[2].at_s >= *before.insertions[1].at_s);
    CHECK_THAT(t.noticed, Catch::Contains("differ by ") && Catch::Contains("insert and read it again") &&
                              Catch::Contains("set the one aside"));
    t.setAside(1, "not seated");
    const auto without = t.first();
    CHECK(t.view().notice.empty());
    CHECK(t.view().undoText == "Undo: an insertion set aside");
    CHECK(without.insertions[1].setAside == "not seated");
    CHECK(without.level_dB == Approx((before.insertions[0].level_dB + before.insertions[2].level_dB) / 2.0));
    CHECK(*without.u_dB < *before.u_dB);
    t.processor.undoFit();
    CHECK(t.first() == before);
    t.setAside(1, "not seated");
    t.setAside(1, "");
    CHECK(t.first() == before);
    CHECK(t.view().undoText == "Undo: an insertion counts again");
}

TEST_CASE("an insertion's level is corrected, and a typed one joins the others")
{
    Inserted t;
    t.setAside(1, "not seated");
    const auto before = t.first();
    t.processor.changeFitReading(phone, 0, 96.5);
    CHECK(t.first().insertions[0].level_dB == 96.5);
    CHECK(t.first().level_dB == Approx((96.5 + before.insertions[2].level_dB) / 2.0));
    t.processor.undoFit();
    CHECK(t.first() == before);
    t.processor.addFitReading(phone, 96.4);
    REQUIRE(t.first().insertions.size() == 4);
    CHECK_FALSE(t.first().insertions[3].seatedAnew);
    CHECK(t.view().captureText == "earphone P \u00b7 4 readings");
    t.processor.changeFitReading(phone, 4, 96.4);
    CHECK(t.view().notice == "That insertion is not there any more.");
    t.setAside(7, "slipped");
    CHECK(t.view().notice == "That insertion is not there any more.");
    t.setAside(0, std::string(201, 'x'));
    CHECK_THAT(t.view().notice, Catch::Contains("longer than 200"));
    CHECK(t.first().insertions[0].setAside.empty());
}

TEST_CASE("an earphone without an insertion that counts takes no part, and says how it would")
{
    Inserted t;
    for (std::size_t i = 0; i < 3; ++i)
        t.setAside(i, "its tip was torn");
    CHECK(t.first().setAside == everyInsertionAside);
    REQUIRE(t.fitted());
    CHECK_FALSE(t.view().fit);
    t.processor.setFitEarphoneAside(0, "");
    CHECK(t.view().notice == "Every insertion of 'earphone P' is set aside: let one of them count again.");
    t.processor.setFitEarphoneAside(0, everyInsertionAside);
    CHECK_THAT(t.view().notice, Catch::Contains("give the reason in other words"));
    t.setAside(2, "");
    CHECK(t.first().setAside.empty());
    REQUIRE(t.fitted());
    REQUIRE(t.view().fit);
    CHECK(t.view().fit->earphones.at(0).takesPart);
}

TEST_CASE("a session keeps the insertions with their reasons")
{
    Inserted t;
    t.setAside(1, "not seated");
    const auto kept = t.first();
    const auto session = t.state();
    t.processor.clearFit();
    CHECK(t.view().input.earphones.empty());
    t.restore(session);
    CHECK(t.first() == kept);
}

TEST_CASE("the one reading of an earphone given whole is set aside with it")
{
    FitRig t;
    t.processor.addFitEarphone(FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, false, {}, {}});
    t.processor.setFitReadingAside(phone, 0, "its tip was torn");
    CHECK(t.view().input.earphones.at(0).setAside == "its tip was torn");
    for (const auto& refusal : {t.processor.addFitReading(phone, 95.4), t.processor.changeFitReading(phone, 0, 95.4)})
        CHECK_THAT(refusal, Catch::EndsWith("correct the earphone whole."));
    CHECK(t.view().input.earphones.at(0).level_dB == 95.2);
}

TEST_CASE("an expected level that is corrected makes the earphone one given whole, and the next capture begins anew")
{
    Inserted t;
    auto typed = t.first();
    typed.expected_dB += 0.4;
    CHECK(t.processor.changeFitEarphone(0, typed).empty());
    CHECK(t.first().insertions.empty());
    CHECK(t.first().level_dB == typed.level_dB);
    CHECK(t.first().expected_dB == typed.expected_dB);
    REQUIRE(t.readAgain());
    REQUIRE(t.first().insertions.size() == 1);
    CHECK(t.first().level_dB == t.first().insertions[0].level_dB);
}

TEST_CASE("insertions read with another drive keep their levels, and a typed one is held against the newest")
{
    Inserted t;
    const auto before = t.first();
    auto corrected = before;
    corrected.tolerance_dB = 1.5;
    CHECK(t.processor.changeFitEarphone(0, corrected).empty());
    auto louder = demoScenario().earphones[0].drive;
    louder.value *= 2.0;
    t.processor.setDrive(louder);
    REQUIRE(t.readAgain());
    const auto now = t.first();
    REQUIRE(now.insertions.size() == 4);
    for (std::size_t i = 0; i < 3; ++i)
        CHECK(now.insertions[i] == before.insertions[i]);
    CHECK(now.expected_dB == Approx(before.expected_dB + 20.0 * std::log10(2.0)));
    CHECK(*now.tolerance_dB == 1.5);
    t.processor.addFitReading(phone, now.level_dB);
    REQUIRE(t.first().insertions.size() == 5);
    CHECK(*t.first().insertions[4].expected_dB == now.expected_dB);
    CHECK(t.first().level_dB == Approx(now.level_dB));
    CHECK(t.first().u_dB);
}

TEST_CASE("an earphone that has lost its library's name is not read on, and says so before the capture ends")
{
    Inserted t;
    auto renamed = t.first();
    renamed.name = "P mine";
    CHECK(t.processor.changeFitEarphone(0, renamed).empty());
    const auto before = t.first();
    t.processor.captureFitReadings(true);
    t.put(OnCoupler::What::earphone);
    t.play(6.0);
    CHECK_THAT(t.view().captureNotice, Catch::StartsWith("What 'P mine' should do with this drive is not known"));
    CHECK(t.first() == before);
}

TEST_CASE("a u that is typed holds for the insertions that stay, and one taken out follows from them again")
{
    Inserted t;
    t.setAside(1, "not seated");
    const auto before = t.first();
    auto typed = before;
    typed.u_dB = 0.5;
    CHECK(t.processor.changeFitEarphone(0, typed).empty());
    t.setAside(0, "slipped");
    CHECK(*t.first().u_dB == 0.5);
    t.setAside(0, "");
    typed.u_dB.reset();
    CHECK(t.processor.changeFitEarphone(0, typed).empty());
    CHECK(t.first() == before);
}

TEST_CASE("a table's earphone is not set aside for a reason that marks something else")
{
    FitRig t;
    for (const std::string mark : {everyInsertionAside, notReadYet}) {
        t.processor.pasteFitTable("kind,name,level_db,expected_db,set_aside\nearphone,E,95.2,94.0," + mark + "\n");
        CHECK_THAT(t.view().notice, Catch::Contains("'E' in the table cannot be taken: '" + mark + "' marks"));
        CHECK(t.view().input.earphones.empty());
    }
}

TEST_CASE("an older session's earphone with such a reason is still set aside when it is corrected")
{
    FitRig t;
    t.processor.addFitEarphone(FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, false, "torn tip", {}});
    auto session = t.state();
    session.replace(session.find("torn tip"), 8, everyInsertionAside);
    t.restore(session);
    auto e = t.view().input.earphones.at(0);
    CHECK(e.setAside == everyInsertionAside);
    e.tolerance_dB = 1.5;
    CHECK(t.processor.changeFitEarphone(0, e).empty());
    CHECK(t.view().input.earphones.at(0) == e);
}
