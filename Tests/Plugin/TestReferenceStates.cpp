// SPDX-License-Identifier: GPL-3.0-or-later
//
// What is told of a capture once another coupler or bench is chosen, or its reference is set aside.
#include "Plugin/ReferenceRig.h"

using namespace couplet;
using namespace couplet::tests;

namespace {

std::string benchName()
{
    return std::string(demoScenario().couplerName);
}

void takeOne(Taking& t)
{
    t.processor.setSeatings(1);
    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::done, 20.0));
    REQUIRE(t.view().state == CaptureState::done);
}

void checkIt(Taking& t)
{
    t.processor.checkReference();
    REQUIRE(t.until(CaptureState::done, 4.0));
    REQUIRE(t.view().check);
    REQUIRE(t.view().check->verdict == QuickCheck::Verdict::holds);
}

// A real coupler beside the first one, in the library and in slot 2.
void putBeside(Taking& t, const std::string& name)
{
    REQUIRE(t.library.folder.save(plainCoupler(name)));
    t.processor.putInSlot(2, plainCoupler(name));
    t.rig.settle();
}

void nothingIsTold(const ReferenceView& view)
{
    CHECK(view.state == CaptureState::idle);
    CHECK(view.notice.empty());
    CHECK(view.notes.empty());
    CHECK_FALSE(view.check);
    CHECK_FALSE(view.canUndo);
}

} // namespace

TEST_CASE("a reference of the simulated bench is not shown or undone in a real coupler of the same name")
{
    Taking t;
    putBeside(t, benchName());
    t.processor.simulate(true, {OnCoupler::What::calibrator});
    t.played.play(5.0);
    takeOne(t);
    CHECK(t.view().coupler == benchName());
    CHECK(t.view().canUndo);

    t.processor.chooseCouplerSlot(2);
    t.processor.simulate(false, {});
    t.played.lift();
    t.played.play(2.0); // and no tone on the real bench
    const ReferenceView& view = t.view();
    CHECK(view.coupler == benchName());
    CHECK_FALSE(view.simulated);
    CHECK_FALSE(view.offset_dB);
    CHECK(view.budget.empty());
    CHECK(view.history.points.empty());
    nothingIsTold(view);

    t.processor.undoReference();
    CHECK(t.view().notice.empty());
    CHECK(t.processor.sessionNow().couplers[2]->references.empty());
    const auto kept = t.library.folder.coupler(benchName());
    REQUIRE(kept);
    CHECK(kept->references.empty());
}

TEST_CASE("a simulated reference that is set aside does not join the library's copy of a real coupler")
{
    Taking t;
    auto coupler = plainCoupler("left bench");
    coupler.references = {referenceAt("2026-01-01T10:00:00Z", 121.9), referenceAt("2026-01-02T10:00:00Z", 121.95)};
    coupler.references[0].source = "simulated bench";
    t.processor.putInSlot(1, coupler);
    t.rig.settle();
    t.processor.setReferenceAside(0, "of no bench");
    CHECK(t.inSession().references[0].setAside == "of no bench");
    CHECK(t.inLibrary().references.empty());
    t.processor.setReferenceAside(1, "gain moved"); // a real one does
    REQUIRE(t.inLibrary().references.size() == 1);
    CHECK(t.inLibrary().references[0].setAside == "gain moved");
}

TEST_CASE("a reference just taken and set aside with a reason is not told as in force, and keeps its reason")
{
    Taking t;
    t.played.seat();
    takeOne(t);
    t.processor.setReferenceAside(0, "gain moved");
    nothingIsTold(t.processor.referenceView()); // at once
    nothingIsTold(t.view());
    t.processor.undoReference();
    CHECK(t.inSession().references[0].setAside == "gain moved");
    CHECK(t.inLibrary().references[0].setAside == "gain moved");
    t.processor.putReferenceBack(0);
    CHECK(t.view().history.points[0].current);
    CHECK(t.view().state == CaptureState::idle);
}

TEST_CASE("the reference just taken stays told as such when another one is set aside")
{
    Taking t;
    t.played.seat();
    takeOne(t);
    takeOne(t);
    t.processor.setReferenceAside(0, "gain moved");
    CHECK(t.view().state == CaptureState::done);
    CHECK(t.view().canUndo);
    t.processor.undoReference();
    CHECK(t.inSession().references[1].setAside == "undone");
}

TEST_CASE("a reference just taken that is set aside elsewhere is not told as in force")
{
    Taking t;
    t.played.seat();
    takeOne(t);
    auto changed = t.inSession();
    changed.references[0].setAside = "gain moved";
    t.processor.putInSlot(1, changed);
    nothingIsTold(t.view());
}

TEST_CASE("an undone reference leaves the one before in force only where there is one")
{
    Taking t;
    t.played.seat();
    takeOne(t);
    t.processor.undoReference();
    CHECK(t.view().notice == "The reference just taken was set aside; no reference is in force.");
    CHECK(t.view().state == CaptureState::idle);
    CHECK(t.inSession().current() == nullptr);
    takeOne(t);
    takeOne(t);
    t.processor.undoReference();
    CHECK(t.view().notice == "The reference just taken was set aside; the one before is in force again.");
    CHECK(t.view().history.points[1].current);
}

TEST_CASE("what was told of one coupler is not told of the next")
{
    Taking t;
    putBeside(t, "right bench");
    t.played.seat();
    takeOne(t);

    SECTION("a reference just taken")
    {
        t.processor.chooseCouplerSlot(2);
        nothingIsTold(t.view());
    }
    SECTION("a reference undone")
    {
        t.processor.undoReference();
        CHECK_FALSE(t.view().notice.empty());
        t.processor.chooseCouplerSlot(2);
        nothingIsTold(t.view());
    }
    SECTION("a quick check")
    {
        checkIt(t);
        t.processor.chooseCouplerSlot(2);
        nothingIsTold(t.view());
    }
    SECTION("a second level")
    {
        t.processor.hearSecondLevel();
        REQUIRE(t.until(CaptureState::done, 7.0));
        CHECK(t.view().secondLevel_dBFS);
        t.processor.chooseCouplerSlot(2);
        nothingIsTold(t.view());
        CHECK_FALSE(t.view().secondLevel_dBFS);
    }
    SECTION("a refusal")
    {
        t.processor.setReferenceAside(9, "there is none");
        CHECK_FALSE(t.view().notice.empty());
        t.processor.chooseCouplerSlot(2);
        nothingIsTold(t.view());
    }
    CHECK(t.view().coupler == "right bench");
    t.processor.chooseCouplerSlot(1);
    nothingIsTold(t.view()); // nor does it come back
    CHECK(t.view().coupler == "left bench");
}

TEST_CASE("a quick check holds for the bench and the reference that it was held against, and no longer")
{
    Taking t;
    t.played.seat();
    takeOne(t);
    takeOne(t); // within the same second, maybe
    checkIt(t);

    SECTION("another reference comes into force")
    {
        t.processor.setReferenceAside(1, "gain moved");
        nothingIsTold(t.processor.referenceView()); // at once
        nothingIsTold(t.view());
    }
    SECTION("another reference that is not in force is set aside")
    {
        t.processor.setReferenceAside(0, "gain moved");
        CHECK(t.view().check);
        CHECK(t.view().state == CaptureState::done);
    }
    SECTION("the simulated bench is chosen")
    {
        t.processor.simulate(true, {OnCoupler::What::calibrator});
        nothingIsTold(t.view());
    }
}
