// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitRig.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

const FitTarget through{FitKind::through, 0};

} // namespace

TEST_CASE("the calibrator shown is the sheet's, which takes up the library's first one and no other unseen")
{
    FitRig t;
    const auto inLibrary = t.library.folder.calibrator("bench calibrator");
    REQUIRE(inLibrary);
    REQUIRE(t.library.folder.remove("bench calibrator"));
    REQUIRE(t.wait([](const FitView& v) { return v.calibrators.empty(); }));
    t.processor.addFitReading(through, 113.0);
    CHECK(t.view().calibrator.empty());
    const auto without = t.state();

    REQUIRE(t.library.folder.save(*inLibrary));
    REQUIRE(t.wait([](const FitView& v) { return v.calibrators.size() == 1; }));
    CHECK(t.view().calibrator == "bench calibrator");
    CHECK(t.view().input.settings.calibrator == "bench calibrator");
    CHECK(*t.view().certified_dB == 114.02);
    CHECK(t.processor.sessionNow().fit.input.settings.calibrator == "bench calibrator");

    t.restore(without);
    CHECK(t.state() == without);
    CHECK(t.view().calibrator.empty());
    t.processor.addFitReading(through, 113.1);
    CHECK(t.view().calibrator.empty());
    CHECK(t.view().input.settings.calibrator.empty());
}

TEST_CASE("no calibrator can be chosen, and stays so until one is asked for")
{
    FitRig t;
    CHECK(t.view().calibrator == "bench calibrator");
    t.processor.chooseFitCalibrator("");
    CHECK(t.view().notice.empty());
    CHECK(t.view().calibrator.empty());
    CHECK_FALSE(t.view().certified_dB);
    CHECK(t.view().undoText == "Undo: no calibrator");
    t.fill(collarTable);
    t.processor.addFitReading(through, 113.3);
    CHECK(t.view().input.settings.calibrator.empty());
    REQUIRE(t.fitted());
    CHECK_THAT(t.view().whyNotUse, Catch::Contains("No calibrator is chosen"));

    FitRig other;
    other.restore(t.state());
    other.processor.addFitReading(through, 113.3);
    CHECK(other.view().calibrator.empty());
    other.processor.chooseFitCalibrator("bench calibrator");
    CHECK(other.view().input.settings.calibrator == "bench calibrator");
    CHECK_FALSE(other.processor.sessionNow().fit.noCalibrator);
    other.processor.undoFit();
    CHECK(other.view().calibrator.empty());
}
