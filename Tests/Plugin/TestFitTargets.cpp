// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitRig.h"

#include <catch2/catch.hpp>

#include <functional>

using namespace couplet;
using namespace couplet::tests;

namespace {

// Near what the bench hears without a reference.
const std::string heardTable = "direct,a,-8\ndirect,b,-8\nthrough,,-9.3\n";

void lift(FitRig& t)
{
    t.put(OnCoupler::What::nothing);
    t.play(1.5);
}

} // namespace

TEST_CASE("a reading under way is given up when the next one is to go elsewhere")
{
    FitRig t;
    t.fill(heardTable);
    t.processor.captureFitReadings(true);
    t.put(OnCoupler::What::calibrator);
    REQUIRE(t.until(FitCaptureState::reading, 6.0));
    SECTION("to the next group")
    {
        t.processor.nextFitTarget();
    }
    SECTION("to one that was chosen")
    {
        t.processor.chooseFitTarget({FitKind::fitting, 0}); // the same
        CHECK(t.view().capture == FitCaptureState::reading);
        t.processor.chooseFitTarget({FitKind::fitting, 1});
    }
    CHECK(t.view().capture == FitCaptureState::lift);
    CHECK_THAT(t.view().captureNotice, Catch::Contains("was given up"));
    t.play(8.0);
    CHECK(t.view().kept == 0);
    lift(t);
    REQUIRE(t.readOne(0.0));
    CHECK(t.view().input.fittings[0].readings.size() == 1);
    CHECK(t.view().input.fittings[1].readings.size() == 2);
}

TEST_CASE("a reading by hand is not taken twice of one seating")
{
    FitRig t;
    t.put(OnCoupler::What::calibrator);
    t.processor.takeFitReading();
    REQUIRE(t.until(FitCaptureState::off, 8.0));
    t.processor.takeFitReading();
    CHECK(t.view().capture == FitCaptureState::lift);
    CHECK_THAT(t.view().captureNotice, Catch::Contains("this seating is read already"));
    t.play(8.0);
    CHECK(t.view().kept == 1);
    lift(t);
    t.put(OnCoupler::What::calibrator);
    REQUIRE(t.until(FitCaptureState::off, 8.0));
    CHECK(t.view().kept == 2);
}

TEST_CASE("asking for one reading leaves hands-free on, and says when the tone has to go away first")
{
    FitRig t;
    t.processor.captureFitReadings(true);
    t.processor.takeFitReading();
    CHECK(t.view().notice.empty());
    t.put(OnCoupler::What::calibrator);
    REQUIRE(t.until(FitCaptureState::lift, 8.0));
    t.processor.takeFitReading();
    CHECK(t.view().capture == FitCaptureState::lift);
    CHECK_THAT(t.view().notice, Catch::Contains("Take the tone away first"));
    lift(t);
    REQUIRE(t.readOne(0.0));
    REQUIRE(t.readOne(0.0));
    CHECK(t.view().kept == 3);
    CHECK(t.view().capture == FitCaptureState::waiting);
}

TEST_CASE("what is read stays the same group when another is removed and had back")
{
    FitRig t;
    t.fill(heardTable + phonesTable);
    const auto kind = GENERATE(FitKind::fitting, FitKind::earphone);
    const std::size_t last = kind == FitKind::fitting ? 1 : 2;
    const auto remove = [&](std::size_t index) {
        if (kind == FitKind::fitting)
            t.processor.removeFitting(index);
        else
            t.processor.removeFitEarphone(index);
    };
    t.processor.chooseFitTarget({kind, last});
    t.processor.captureFitReadings(true);
    remove(0);
    CHECK(t.view().target == FitTarget{kind, last - 1});
    CHECK(t.view().capture == FitCaptureState::waiting);
    t.processor.undoFit();
    CHECK(t.view().target == FitTarget{kind, last});
    CHECK(t.view().capture == FitCaptureState::waiting);
    remove(last);
    CHECK(t.view().target == FitTarget{kind, last - 1});
    CHECK(t.view().capture == FitCaptureState::off);
    CHECK_THAT(t.view().captureNotice, Catch::Contains("what it read was removed"));
}

TEST_CASE("the last reading kept is told no longer once it is another group's, undone or another sheet's")
{
    FitRig t;
    const auto before = t.state();
    const std::function<void()> acts[] = {
        [&] { t.processor.nextFitTarget(); },
        [&] { t.processor.undoFit(); },
        [&] { t.processor.clearFit(); },
        [&] { t.fill(heardTable); },
        [&] { t.restore(before); },
        [&] {
            t.processor.putInSlot(2, plainCoupler("right bench"));
            t.rig.set(ParameterId::couplerSlot, 2);
        },
        [&] { t.processor.simulate(true, {OnCoupler::What::nothing}); },
    };
    for (const auto& act : acts) {
        t.rig.set(ParameterId::couplerSlot, 1);
        t.processor.captureFitReadings(true);
        REQUIRE(t.readOne(0.0));
        CHECK(t.view().lastKept_dB);
        act();
        CHECK_FALSE(t.view().lastKept_dB);
    }
}

TEST_CASE("what was said of one thing is gone when another is done")
{
    FitRig t;
    t.processor.removeFitEarphone(7);
    CHECK_FALSE(t.view().notice.empty());
    t.processor.captureFitReadings(false);
    CHECK(t.view().notice.empty());
    t.processor.captureFitReadings(true);
    t.rig.set(ParameterId::microphoneChannel, 2);
    CHECK_FALSE(t.view().captureNotice.empty());
    t.processor.addFitting("collar");
    CHECK(t.view().captureNotice.empty());
}
