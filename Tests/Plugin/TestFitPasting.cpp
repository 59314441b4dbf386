// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FitRig.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

constexpr FitTarget collar{FitKind::fitting, 0}, through{FitKind::through, 0}, phone{FitKind::earphone, 0};

std::vector<double> levelsOf(const FitGroup& group)
{
    std::vector<double> levels_dB;
    for (const auto& reading : group.readings)
        levels_dB.push_back(reading.level_dB);
    return levels_dB;
}

} // namespace

TEST_CASE("a bare column joins the group that the next reading goes to, in one step")
{
    FitRig t;
    t.fill("direct,collar,114.65\nthrough,,113.26\n");
    t.processor.pasteFitTable("114,69\n114,72\n");
    CHECK(t.view().notice.empty());
    CHECK(t.view().told == "2 readings were taken, into 'collar'.");
    CHECK(t.view().undoText == "Undo: 2 readings pasted");
    CHECK(levelsOf(t.view().input.fittings.at(0)) == std::vector<double>{114.65, 114.69, 114.72});
    t.processor.chooseFitTarget(through);
    CHECK(t.view().told.empty());
    t.processor.pasteFitTable("113.3");
    CHECK(t.view().told == "1 reading was taken, through the coupler.");
    CHECK(levelsOf(t.view().input.through) == std::vector<double>{113.26, 113.3});
    t.processor.undoFit();
    CHECK(t.view().told.empty());
    t.processor.undoFit();
    CHECK(levelsOf(t.view().input.fittings.at(0)) == std::vector<double>{114.65});
    CHECK(levelsOf(t.view().input.through) == std::vector<double>{113.26});
}

TEST_CASE("a bare column makes the first fitting of an empty sheet")
{
    FitRig t;
    t.processor.pasteFitTable("114.65\n114.69\n");
    CHECK(t.view().told == "2 readings were taken, into 'fitting 1'.");
    REQUIRE(t.view().input.fittings.size() == 1);
    t.processor.undoFit();
    CHECK(t.view().input.fittings.empty());
}

TEST_CASE("a bare column that cannot be taken changes nothing and says why")
{
    FitRig t;
    t.fill(collarTable + phonesTable);
    const auto before = t.view().input;
    t.processor.pasteFitTable("114.65\nloud\n");
    CHECK_THAT(t.view().notice, Catch::StartsWith("What was pasted, line 2: 'loud' is no number"));
    t.processor.chooseFitTarget(phone);
    t.processor.pasteFitTable("114.65\n114.69\n");
    CHECK_THAT(t.view().notice,
               Catch::Contains("belongs to a fitting, or through the coupler") && Catch::Contains("'earphone P'"));
    CHECK(t.view().told.empty());
    CHECK(t.view().input == before);
    CHECK(t.view().undoText == "Undo: a table of readings");
}

TEST_CASE("a long column is read off the message thread, into the group chosen when it arrives")
{
    FitRig t;
    t.processor.chooseFitTarget(through);
    std::string text;
    for (int n = 0; n < 4000; ++n)
        text += "113.3" + std::string(70, '0') + "\n";
    t.processor.pasteFitTable(text);
    REQUIRE(t.wait([](const FitView& v) { return !v.told.empty(); }));
    CHECK(t.view().told == "4000 readings were taken, through the coupler.");
    CHECK(t.view().input.through.readings.size() == 4000);
}
