// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LibraryRig.h"

#include <catch2/catch.hpp>

#include <fstream>
#include <thread>

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("what another program changes in the library shows within a second or so")
{
    LibraryRig rig;
    rig.start();
    REQUIRE(rig.done());
    CHECK(rig.view().rows.empty());
    const auto start = juce::Time::getMillisecondCounterHiRes();
    REQUIRE(Folder(rig.scratch.path).save(fullCoupler("from elsewhere")));
    REQUIRE(rig.until([&](const auto&) { return rig.row("from elsewhere") != nullptr; }));
    CHECK(juce::Time::getMillisecondCounterHiRes() - start < 2000.0);
    REQUIRE(Folder(rig.scratch.path).remove("from elsewhere"));
    CHECK(rig.until([](const LibraryView& v) { return v.rows.empty(); }));
}

TEST_CASE("a library that stands still makes no new view but for the ages, and costs no new listing")
{
    LibraryRig rig;
    REQUIRE(rig.folder.save(fullCoupler("one")));
    rig.start();
    REQUIRE(rig.done());
    const auto revision = rig.view().revision;
    rig.until([](const auto&) { return false; }, 2.5);
    CHECK(rig.view().revision == revision);
}

TEST_CASE("instances of a process see what one of them does, at once")
{
    LibraryRig rig;
    REQUIRE(rig.folder.save(referencedCoupler("shared", 120.0)));
    rig.start();
    Processor second;
    rig.desk().rename("shared", "renamed");
    REQUIRE(rig.done());
    second.tick();
    const auto& rows = second.library().view().rows;
    REQUIRE(rows.size() == 1);
    CHECK(rows[0].profile->name == "renamed");
}

TEST_CASE("rows stand by slot, then by name, with the state of their reference")
{
    LibraryRig rig;
    auto stale = inSlot(referencedCoupler("stale", 119.0), 2);
    stale.references[0].takenAt = "2020-01-01T00:00:00Z";
    REQUIRE(rig.folder.save(stale));
    REQUIRE(rig.folder.save(inSlot(referencedCoupler("fresh", 120.0), 7)));
    Coupler none;
    none.name = "beyond the slots";
    REQUIRE(rig.folder.save(none));
    rig.start();
    REQUIRE(rig.done());
    const auto& rows = rig.view().rows;
    REQUIRE(rows.size() == 3);
    CHECK(rows[0].profile->name == "stale");
    CHECK(rows[0].slot == 2);
    CHECK(rows[0].reference == ReferenceState::stale);
    CHECK(rows[1].slot == 7);
    CHECK(rows[1].reference == ReferenceState::fresh);
    CHECK(rows[2].slot == 0);
    CHECK(rows[2].reference == ReferenceState::none);
    CHECK(rows[2].inLibrary);
    CHECK(rig.view().questions.empty());
}

TEST_CASE("a coupler is chosen by its slot where it has one, and by hand where it has none")
{
    LibraryRig rig;
    REQUIRE(rig.folder.save(inSlot(referencedCoupler("in slot", 120.0), 3)));
    REQUIRE(rig.folder.save(referencedCoupler("beyond", 110.0)));
    rig.start();
    REQUIRE(rig.done());
    rig.desk().chooseCoupler("in slot");
    CHECK(rig.processor->parameters.whole(ParameterId::couplerSlot) == 3);
    rig.desk().chooseCoupler("beyond");
    CHECK(rig.processor->parameters.whole(ParameterId::couplerSlot) == 0);
    CHECK(rig.processor->sessionNow().couplers[0]->name == "beyond");
    rig.desk().chooseNoCoupler();
    CHECK_FALSE(rig.processor->sessionNow().couplers[0]);
    rig.desk().chooseCoupler("nowhere");
    CHECK(rig.view().refused);
}

TEST_CASE("a coupler put in a slot leaves the one before, and undo has the slots as they were")
{
    LibraryRig rig;
    REQUIRE(rig.folder.save(inSlot(referencedCoupler("first", 120.0), 1)));
    REQUIRE(rig.folder.save(inSlot(referencedCoupler("second", 110.0), 2)));
    rig.start();
    REQUIRE(rig.done());
    rig.desk().chooseCoupler("first");
    const auto before = rig.processor->sessionNow();
    rig.desk().putInSlot("first", 2);
    auto session = rig.processor->sessionNow();
    CHECK_FALSE(session.couplers[1]);
    CHECK(session.couplers[2]->name == "first");
    CHECK(rig.processor->parameters.whole(ParameterId::couplerSlot) == 2);
    CHECK(rig.view().said.find("'second' left it") != std::string::npos);
    rig.desk().undo();
    CHECK(rig.processor->sessionNow() == before);
    CHECK(rig.processor->parameters.whole(ParameterId::couplerSlot) == 1);
    CHECK(rig.view().undo.empty());
}

TEST_CASE("a coupler is copied, renamed and removed, and each is undone")
{
    LibraryRig rig;
    const auto original = inSlot(fullCoupler("bench"), 4);
    REQUIRE(rig.folder.save(original));
    rig.start();
    REQUIRE(rig.done());

    rig.desk().copy("bench");
    REQUIRE(rig.done());
    CHECK(rig.view().newest == "bench copy");
    REQUIRE(rig.folder.coupler("bench copy"));
    CHECK(rig.folder.coupler("bench copy")->references.empty()); // another coupler
    CHECK(rig.folder.coupler("bench copy")->slot == 0);
    rig.desk().undo();
    REQUIRE(rig.done());
    CHECK_FALSE(rig.folder.coupler("bench copy"));

    rig.desk().rename("bench", "left bench");
    REQUIRE(rig.done());
    CHECK_FALSE(rig.folder.holdsCoupler("bench"));
    CHECK(rig.folder.coupler("left bench")->references == original.references);
    CHECK(rig.folder.coupler("left bench")->slot == 4);
    CHECK(rig.processor->sessionNow().couplers[4]->name == "left bench"); // the session follows
    CHECK(rig.view().questions.empty());
    rig.desk().undo();
    REQUIRE(rig.done());
    CHECK(*rig.folder.coupler("bench") == original);
    CHECK(rig.processor->sessionNow().couplers[4] == original);

    rig.desk().remove("bench");
    REQUIRE(rig.done());
    CHECK_FALSE(rig.folder.holdsCoupler("bench"));
    CHECK(rig.view().undo == "'bench'");
    REQUIRE(rig.row("bench") != nullptr); // the session goes on with its own
    CHECK_FALSE(rig.row("bench")->inLibrary);
    REQUIRE(rig.view().questions.size() == 1);
    CHECK(rig.view().questions[0].left); // and does not ask who has just removed it
    rig.desk().undo();
    REQUIRE(rig.done());
    CHECK(*rig.folder.coupler("bench") == original);
    CHECK(rig.view().questions.empty());
}

TEST_CASE("an earphone that chose a coupler's correction says so under its new name, in the session too")
{
    LibraryRig rig;
    auto earphone = fullEarphone("S");
    earphone.choseCorrectionOf = {"bench"};
    REQUIRE(rig.folder.save(inSlot(referencedCoupler("bench", 120.0), 1)));
    REQUIRE(rig.folder.save(earphone));
    rig.start();
    REQUIRE(rig.done());
    rig.desk().rename("bench", "left bench");
    REQUIRE(rig.done());
    CHECK(rig.folder.earphone("S")->choseCorrectionOf == std::vector<std::string>{"left bench"});
    CHECK(rig.processor->sessionNow().earphones[1]->choseCorrectionOf == std::vector<std::string>{"left bench"});
}

TEST_CASE("a name that is taken is refused, and both couplers stay as they were")
{
    LibraryRig rig;
    const auto a = fullCoupler("a");
    auto b = fullCoupler("b");
    b.slot = 0;
    REQUIRE(rig.folder.save(a));
    REQUIRE(rig.folder.save(b));
    rig.start();
    REQUIRE(rig.done());
    rig.desk().rename("a", "b");
    REQUIRE(rig.done());
    CHECK(rig.view().refused);
    CHECK_FALSE(rig.view().said.empty());
    CHECK(*rig.folder.coupler("a") == a);
    CHECK(*rig.folder.coupler("b") == b);
}

TEST_CASE("a coupler and an earphone of one name are told apart, and so is what is called like its kind")
{
    LibraryRig rig;
    REQUIRE(rig.folder.save(referencedCoupler("twin", 120.0)));
    REQUIRE(rig.folder.save(fullEarphone("twin")));
    rig.start();
    REQUIRE(rig.done());
    rig.desk().remove("twin");
    REQUIRE(rig.done());
    CHECK_FALSE(rig.folder.holdsCoupler("twin"));
    CHECK(rig.folder.earphone("twin"));
    rig.desk().undo();
    REQUIRE(rig.done());
    REQUIRE(rig.folder.save(referencedCoupler("coupler twin", 119.0)));
    rig.desk().remove("twin");
    REQUIRE(rig.done());
    CHECK(rig.view().refused);
    CHECK(rig.folder.holdsCoupler("twin"));
    CHECK(rig.folder.holdsCoupler("coupler twin"));
}

TEST_CASE("each kind makes a coupler under a name that is free")
{
    LibraryRig rig;
    rig.start();
    REQUIRE_FALSE(rig.view().newKinds.empty());
    for (const auto& kind : rig.view().newKinds)
        for (int n = 0; n < 2; ++n) {
            rig.desk().make(kind);
            REQUIRE(rig.done());
            INFO(kind << ": " << rig.view().said);
            CHECK_FALSE(rig.view().refused);
            CHECK(rig.folder.holdsCoupler(rig.view().newest));
        }
    CHECK(rig.folder.list().items.size() == 2 * rig.view().newKinds.size());
    CHECK(rig.folder.holdsCoupler("Bare microphone 2"));
    rig.desk().make("no such kind");
    REQUIRE(rig.done());
    CHECK(rig.view().refused);
}

TEST_CASE("fields changed by hand reach file and session, and come back")
{
    LibraryRig rig;
    const auto before = inSlot(referencedCoupler("bench", 120.0), 1);
    REQUIRE(rig.folder.save(before));
    rig.start();
    REQUIRE(rig.done());
    CouplerFields fields = fieldsByHand(before);
    fields.serial = "2011-0417";
    fields.allowedAge_h = 8.0;
    rig.desk().setFields("bench", fields);
    REQUIRE(rig.done());
    CHECK(fieldsByHand(*rig.folder.coupler("bench")) == fields);
    CHECK(fieldsByHand(*rig.processor->sessionNow().couplers[1]) == fields);
    CHECK(rig.processor->sessionNow().couplers[1]->references == before.references);
    rig.desk().undo();
    REQUIRE(rig.done());
    CHECK(*rig.folder.coupler("bench") == before);
    CHECK(rig.processor->sessionNow().couplers[1] == before);
}

TEST_CASE("a response table is attached, and a bad one is refused with its line and changes nothing")
{
    LibraryRig rig;
    const auto before = referencedCoupler("bench", 120.0);
    REQUIRE(rig.folder.save(before));
    rig.start();
    REQUIRE(rig.done());
    const auto good = rig.scratch.path.parent_path() / "good.txt", bad = rig.scratch.path.parent_path() / "bad.txt";
    writeContent(good, "100 0.1\n1000 0.0\n10000 2.5\n");
    writeContent(bad, "100 0.1\n1000 0.0\n500 2.5\n");
    rig.desk().attachResponse("bench", bad);
    REQUIRE(rig.done());
    CHECK(rig.view().refused);
    CHECK(rig.view().said.find("bad.txt") != std::string::npos);
    CHECK(rig.view().said.find('3') != std::string::npos);
    CHECK(*rig.folder.coupler("bench") == before);
    rig.desk().attachResponse("", good);
    CHECK(rig.view().said.find("select one first") != std::string::npos);
    rig.desk().attachResponse("bench", good);
    REQUIRE(rig.done());
    CHECK(rig.folder.coupler("bench")->response.size() == 3);
    CHECK(rig.folder.coupler("bench")->responseSource == "good.txt");
}

TEST_CASE("files that cannot be read are listed with their sentence, and do not keep the rest away")
{
    LibraryRig rig;
    REQUIRE(rig.folder.save(fullCoupler("good")));
    writeContent(rig.scratch.path / "broken.json", "{\"kind\": \"coupler\",");
    rig.start();
    REQUIRE(rig.done());
    REQUIRE(rig.view().unreadable.size() == 1);
    CHECK(rig.view().unreadable[0].find("broken.json") != std::string::npos);
    CHECK(rig.row("good") != nullptr);
    std::filesystem::remove(rig.scratch.path / "broken.json");
    CHECK(rig.until([](const LibraryView& v) { return v.unreadable.empty(); }));
}
