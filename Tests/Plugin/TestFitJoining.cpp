// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/TwoBenches.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

constexpr FitTarget through{FitKind::through, 0};

const std::string refuses = "These readings are of 'left bench', and 'right bench' is chosen: choose the coupler that "
                            "they are of, or clear all readings to begin anew.";

} // namespace

TEST_CASE("no reading joins those of another coupler, whichever way it comes")
{
    TwoBenches t;
    t.fill(collarTable + phonesTable);
    t.choose(2);
    const auto before = t.view().input;
    CHECK(t.processor.addFitReading(through, 113.31) == refuses);
    CHECK(t.processor.addFitReading({FitKind::fitting, 0}, 114.7) == refuses);
    CHECK(t.processor.addFitReading({FitKind::fitting, 1}, 114.7) == refuses);
    CHECK(t.processor.addFitEarphone(FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, false, {}, {}}) == refuses);
    t.processor.chooseFitTarget(through);
    t.processor.pasteFitTable("113,31\n113,32\n");
    CHECK(t.view().notice == refuses);
    CHECK(t.view().told.empty());
    CHECK(t.view().input == before);
    t.processor.chooseFitTarget(through);
    CHECK(t.view().notice.empty());

    CHECK(t.processor.changeFitReading(through, 0, 113.27).empty()); // what is there can be mended
    t.processor.undoFit();
    t.choose(1);
    CHECK(t.processor.addFitReading(through, 113.31).empty());
    t.choose(0); // none is no other
    CHECK(t.processor.addFitReading(through, 113.32).empty());
    t.choose(2);
    t.processor.clearFit();
    CHECK(t.processor.addFitReading(through, 113.33).empty());
}

TEST_CASE("an earphone that waits is not read on another coupler, and can be fetched there")
{
    TwoBenches t;
    t.fill(collarTable);
    t.choose(2);
    t.processor.addFitEarphone("earphone P");
    REQUIRE(t.view().notice.empty());
    REQUIRE(t.view().input.earphones.size() == 1);
    CHECK(t.processor.changeFitEarphone(0, FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, false, {}, {}}) == refuses);
    CHECK(t.view().input.earphones[0].setAside == notReadYet);
    t.choose(1);
    CHECK(t.processor.changeFitEarphone(0, FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, false, {}, {}}).empty());
    t.choose(2);
    CHECK(t.processor.changeFitEarphone(0, FitEarphone{"E", 95.3, 94.0, 1.0, 0.12, false, {}, {}}).empty());
}

TEST_CASE("no capture begins for readings of another coupler, and one that comes to them ends and says why")
{
    TwoBenches t;
    t.fill(collarTable);
    t.choose(2);
    for (const bool handsFree : {true, false}) {
        if (handsFree)
            t.processor.captureFitReadings(true);
        else
            t.processor.takeFitReading();
        CHECK(t.view().notice == refuses);
        CHECK(t.view().capture == FitCaptureState::off);
    }
    t.processor.clearFit();
    t.processor.chooseFitTarget(through);
    t.processor.captureFitReadings(true);
    CHECK(t.view().notice.empty());
    CHECK(t.view().capture == FitCaptureState::waiting);
    t.processor.undoFit(); // those of the other are there again
    CHECK(t.view().capture == FitCaptureState::off);
    CHECK(t.view().captureNotice == refuses);
}

TEST_CASE("a coupler that is renamed keeps its readings, and so do the steps that can be undone")
{
    FitRig t;
    auto& desk = t.processor.library();
    const auto renamed = [&](const std::string& name) {
        return t.wait([&](const FitView& v) { return v.coupler == name && !desk.view().busy; });
    };
    REQUIRE(t.wait([&](const FitView&) { return desk.view().read; }));
    t.fill(collarTable);
    t.processor.useCorrection();
    REQUIRE(t.wait([](const FitView& v) { return !v.used.empty(); }));
    t.processor.addFitReading(through, 113.31);
    t.processor.captureFitReadings(true);
    desk.rename("left bench", "bench A");
    REQUIRE(renamed("bench A"));
    CHECK(t.view().readOn.empty());
    CHECK(t.view().capture == FitCaptureState::waiting); // it is the coupler it was
    CHECK(t.processor.sessionNow().fit.coupler == "bench A");
    CHECK(t.view().undoText == "Undo: reading 113.31 dB");
    t.processor.undoFit();
    CHECK(t.view().readOn.empty());
    CHECK(t.view().input.through.readings.size() == 3);
    desk.undo(); // the name before
    REQUIRE(renamed("left bench"));
    CHECK(t.view().readOn.empty());
    CHECK(t.processor.sessionNow().fit.coupler == "left bench");
    desk.rename("left bench", "bench B");
    REQUIRE(renamed("bench B"));
    REQUIRE(t.library.folder.coupler("bench B")->correction);
    t.processor.undoFit(); // the correction that was used
    REQUIRE(t.wait([](const FitView& v) { return v.used.ends_with("again.") || !v.notice.empty(); }));
    CHECK(t.view().notice.empty());
    CHECK_FALSE(t.library.folder.coupler("bench B")->correction);
    CHECK_FALSE(t.processor.sessionNow().couplers[1]->correction);
}

TEST_CASE("a coupler that the session has otherwise than the library stays what its readings are of")
{
    FitRig t;
    auto own = FitLibrary::uncorrected();
    own.microphone = "another microphone";
    t.processor.putInSlot(1, std::optional(own));
    auto& desk = t.processor.library();
    REQUIRE(t.wait([&](const FitView&) { return desk.view().read; }));
    t.fill(collarTable);
    desk.rename("left bench", "bench A");
    REQUIRE(t.wait([&](const FitView&) { return t.library.folder.holdsCoupler("bench A") && !desk.view().busy; }));
    CHECK(t.view().coupler == "left bench");
    CHECK(t.view().readOn.empty());
}

TEST_CASE("the simulated bench's readings are of its own coupler, whatever the library's is called")
{
    FitRig t;
    auto twin = plainCoupler("bench coupler");
    REQUIRE(t.library.folder.save(twin));
    auto& desk = t.processor.library();
    REQUIRE(t.wait([&](const FitView&) { return desk.view().read && desk.view().rows.size() == 2; }));
    t.processor.simulate(true, {OnCoupler::What::calibrator});
    t.rig.settle();
    t.processor.fillFitFromSimulation();
    REQUIRE(t.view().readOn.empty());
    desk.rename("bench coupler", "bench A");
    REQUIRE(t.wait([&](const FitView&) { return t.library.folder.holdsCoupler("bench A") && !desk.view().busy; }));
    CHECK(t.view().coupler == "bench coupler");
    CHECK(t.view().readOn.empty());
}
