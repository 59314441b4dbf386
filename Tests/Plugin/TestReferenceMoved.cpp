// SPDX-License-Identifier: GPL-3.0-or-later
//
// A result beyond the usual limits waits for a word, and is not the reference in force before.
#include "Plugin/ReferenceRig.h"

using namespace couplet;
using namespace couplet::tests;

namespace {

// The coupler's last reference lies 16 dB from what the calibrator gives here: as if that had been an earphone's tone.
struct Moved : Taking
{
    Moved()
    {
        Reference last;
        last.takenAt = timeNow();
        last.offset_dB = trueOffset_dB - 16.0;
        last.tone_dBFS = -9.31 + 16.0;
        last.frequency = Hertz(1000.0);
        last.sampleRate_Hz = 48000.0;
        last.calibrator = "bench calibrator";
        Coupler coupler = plainCoupler("left bench");
        coupler.references = {last};
        REQUIRE(library.folder.save(coupler));
        processor.putInSlot(1, coupler);
        rig.settle();
        played.seat();
        played.play(5.0);
        processor.setSeatings(1);
        processor.takeReference();
        REQUIRE(until(CaptureState::done, 20.0));
    }
    std::size_t count() const { return inLibrary().references.size(); }
};

} // namespace

TEST_CASE("a reference that moved waits, and the one before stays in force, in session and library")
{
    Moved t;
    const ReferenceView& view = t.view();
    REQUIRE(view.waits_dB);
    CHECK(*view.waits_dB == Approx(16.0).margin(0.01));
    CHECK_THAT(view.waitsText, Catch::Contains("moved by +16.00 dB") && Catch::Contains("changed on purpose"));
    CHECK(*view.offset_dB == Approx(trueOffset_dB).margin(0.005)); // the result is shown
    CHECK(*view.before_dB == Approx(trueOffset_dB - 16.0).margin(1e-9));
    CHECK(view.canUndo);
    CHECK(view.canTake);
    CHECK(t.count() == 1);
    CHECK(t.inSession().references.size() == 1);
    t.played.play(1.0);
    CHECK(t.view().waits_dB);
    CHECK(t.rig.view().reading.measured->level_dB == Approx(114.02 - 1.36 - 16.0).margin(0.01));
}

TEST_CASE("a reference that waits is kept by a word, bears the mark, and the next is compared with it")
{
    Moved t;
    t.processor.keepMovedReference();
    CHECK_FALSE(t.view().waits_dB);
    CHECK(t.view().state == CaptureState::done);
    CHECK(t.view().canUndo);
    REQUIRE(t.count() == 2);
    CHECK(t.inSession().references == t.inLibrary().references);
    CHECK(*t.inLibrary().references.back().moved_dB == Approx(16.0).margin(0.01));
    CHECK(t.view().history.points.front().beforeStep);
    t.played.play(0.5);
    const auto& notes = t.rig.view().reading.notes;
    CHECK(std::any_of(notes.begin(), notes.end(), [](const std::string& note) {
        return note.find("kept although it had moved by +16.00 dB") != std::string::npos;
    }));
    t.processor.keepMovedReference(); // nothing waits: nothing happens
    CHECK(t.count() == 2);

    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::done, 20.0));
    CHECK_FALSE(t.view().waits_dB);
    CHECK(t.count() == 3);
    CHECK_FALSE(t.inLibrary().references.back().moved_dB);
}

TEST_CASE("a reference that waits is discarded, forgotten by the next capture, and by another coupler")
{
    Moved t;
    t.processor.undoReference();
    CHECK_FALSE(t.view().waits_dB);
    CHECK_THAT(t.view().notice, Catch::Contains("discarded"));
    CHECK_FALSE(t.view().canUndo);
    t.processor.keepMovedReference();
    CHECK(t.count() == 1);

    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::done, 20.0));
    CHECK(t.view().waits_dB);
    t.processor.checkReference();
    CHECK_FALSE(t.view().waits_dB);
    t.processor.cancelReference();
    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::done, 20.0));
    t.processor.chooseCouplerSlot(0);
    t.played.play(0.2);
    CHECK_FALSE(t.view().waits_dB);
    t.processor.chooseCouplerSlot(1);
    t.played.play(0.2);
    t.processor.keepMovedReference();
    CHECK(t.count() == 1);
}

TEST_CASE("a result whose reference before is set aside meanwhile is taken again")
{
    Moved t;
    t.processor.setReferenceAside(0, "an earphone's tone");
    CHECK_FALSE(t.view().waits_dB);
    CHECK_THAT(t.view().notice, Catch::Contains("take it again"));
    t.processor.takeReference();
    REQUIRE(t.until(CaptureState::done, 20.0));
    CHECK_FALSE(t.view().waits_dB); // nothing counts that it could have moved from
    CHECK(t.count() == 2);
    CHECK_FALSE(t.inLibrary().references.back().moved_dB);
}
