// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitWords.h"
#include "Bench/SimulatedFit.h"
#include "Simulation/Scenario.h"

#include <catch2/catch.hpp>

#include <algorithm>

// Readings of another frequency or another calibrator than the correction's: named while they count, and only then.

using namespace couplet;

namespace {

std::vector<std::string> notesOfBench(const FitInput& input)
{
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    return notesOf(input, *fit);
}

bool has(const std::vector<std::string>& notes, const std::string& part)
{
    return std::any_of(notes.begin(), notes.end(),
                       [&](const auto& note) { return note.find(part) != std::string::npos; });
}

FitInput bench()
{
    auto input = fitOnPaper(demoScenario());
    input.settings.frequency = Hertz(1000.0);
    input.settings.calibrator = "bench calibrator";
    return input;
}

} // namespace

TEST_CASE("a reading at another frequency is named while it counts, and one set aside is not")
{
    auto input = bench();
    CHECK_FALSE(has(notesOfBench(input), "belongs to one frequency"));
    auto& readings = input.fittings[0].readings;
    REQUIRE(readings.size() >= 3);
    readings[1].frequency = Hertz(250.0);
    CHECK(has(notesOfBench(input), "1 of the readings of"));
    CHECK(has(notesOfBench(input), "belongs to one frequency"));
    readings[1].setAside = "the wrong switch";
    CHECK_FALSE(has(notesOfBench(input), "belongs to one frequency"));
    readings[2].frequency = Hertz(1000.04); // what a calibrator of 1 kHz really plays
    CHECK_FALSE(has(notesOfBench(input), "belongs to one frequency"));
}

TEST_CASE("a reading with another calibrator is named while it counts, and one set aside is not")
{
    auto input = bench();
    auto& readings = input.fittings[0].readings;
    readings[0].calibrator = "bench calibrator";
    CHECK_FALSE(has(notesOfBench(input), "belongs to one calibrator"));
    readings[1].calibrator = "the neighbour's";
    CHECK(has(notesOfBench(input), "belongs to one calibrator"));
    readings[1].setAside = "the wrong case";
    CHECK_FALSE(has(notesOfBench(input), "belongs to one calibrator"));
}
