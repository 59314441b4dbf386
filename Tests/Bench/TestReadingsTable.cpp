// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReadingsTable.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <random>

using namespace couplet;

namespace {

const std::string header = "kind,name,level_db,expected_db,tolerance_db,expanded_uncertainty_db\n";

FitInput read(const std::string& text)
{
    auto input = readingsFromTable(text, "t.csv");
    if (!input)
        FAIL(input.fault().sentence);
    return *input;
}

std::string refusal(const std::string& text)
{
    const auto input = readingsFromTable(text, "t.csv");
    return input ? "no fault" : input.fault().sentence;
}

void checkSmall(const FitInput& input)
{
    REQUIRE(input.fittings.size() == 2);
    CHECK(input.fittings[0].name == "cork, dry");
    REQUIRE(input.fittings[0].readings.size() == 2);
    CHECK(input.fittings[0].readings[1].level_dB == 114.5);
    CHECK(input.fittings[1].name == "試 collar");
    REQUIRE(input.through.readings.size() == 1);
    CHECK(input.through.readings[0].level_dB == 113.25);
    REQUIRE(input.earphones.size() == 2);
    CHECK(input.earphones[0].says_dB() == Approx(1.58));
    CHECK(input.earphones[0].tolerance_dB == 0.8);
    CHECK(input.earphones[0].u_dB == 0.12);
    CHECK_FALSE(input.earphones[0].keptAside);
    CHECK(input.earphones[1].keptAside);
    CHECK_FALSE(input.earphones[1].tolerance_dB);
    CHECK(input.earphones[1].u_dB == 0.12);
}

} // namespace

TEST_CASE("a table reads alike with commas, with decimal commas, with mark and CRLF, and pasted with tabs")
{
    checkSmall(read(header + "direct,\"cork, dry\",114.25,,,\ndirect,\"cork, dry\",114.5\ndirect,試 collar,114.75\n"
                             "through,,113.25,,,\nearphone,P,96.18,94.60,0.8,0.24\naside,S,95.33,93.86,,0.24\n"));
    checkSmall(read("\xEF\xBB\xBFkind;name;level_db;expected_db;tolerance_db;expanded_uncertainty_db\r\n"
                    "direct;cork, dry;114,25;;;\r\ndirect;cork, dry;114,5\r\ndirect;試 collar;114,75\r\n"
                    "through;;113,25;;;\r\nearphone;P;96,18;94,60;0,8;0,24\r\n;;;;;\r\naside;S;95,33;93,86;;0,24"));
    checkSmall(
        read("direct\tcork, dry\t114,25\ndirect\tcork, dry\t114.5\ndirect\t試 collar\t114.75\nthrough\t\t113.25\n"
             "Earphone\tP\t96,18\t94,60\t0,8\t0,24\nASIDE\tS\t95.33\t93.86\t\t0.24\n"));
}

TEST_CASE("columns may stand in any order, and further ones set aside, date and place a reading")
{
    const auto input = read("level_db,kind,name,set_aside,at,frequency_hz,calibrator\n"
                            "114.5,direct,a,\"he said \"\"no\"\"\",2026-05-03T12:04:11Z,1000,bench calibrator\n"
                            "114.6,direct,a,,12.5,,\n");
    const auto& readings = input.fittings[0].readings;
    CHECK(readings[0].setAside == "he said \"no\"");
    CHECK(*readings[0].at_s == Approx(1777809851.0));
    CHECK(readings[0].frequency == Hertz(1000.0));
    CHECK(readings[0].calibrator == "bench calibrator");
    CHECK(readings[1].at_s == 12.5);
    CHECK_FALSE(readings[1].frequency);
}

TEST_CASE("a table's fault names the line and the mend")
{
    const struct
    {
        std::string text, start, part;
    } faults[] = {
        {"", "t.csv: it is empty", "line of column names"},
        {"\n \r\n", "t.csv: it is empty", ""},
        {"direct,a,114.5\n", "t.csv, line 1: 'direct' is no column", "kind,name,level_db"},
        {"kind,name,kind\n", "t.csv, line 1: the column 'kind' stands twice", "take one out"},
        {"kind,name\n", "t.csv, line 1: the column 'level_db' is missing", "add it"},
        {header + "direct,a,11x.5\n", "t.csv, line 2: '11x.5' in 'level_db' is no number", "114.02"},
        {header + "direct,a,nan\n", "t.csv, line 2: 'nan' in 'level_db' is outside -200 to 300", ""},
        {header + "direct,a,1e999\n", "t.csv, line 2: '1e999' in 'level_db' is outside", ""},
        {header + "direct,a,\n", "t.csv, line 2: the level is missing", "take the line out"},
        {header + "direct,,114\n", "t.csv, line 2: the fitting has no name", ""},
        {header + "through,a,114\n", "t.csv, line 2: a reading through the coupler has no name", ""},
        {header + "straight,a,114\n", "t.csv, line 2: 'straight' is no kind of reading", "direct, through, earphone"},
        {header + "direct,a,114,94\n", "t.csv, line 2: 'expected_db' belongs to earphones", "leave it empty"},
        {header + "earphone,P,96.18\n", "t.csv, line 2: the level expected of the earphone is missing", ""},
        {header + "earphone,P,96,94,-1\n", "t.csv, line 2: '-1' in 'tolerance_db' is outside 0 to 100", ""},
        {header + "earphone,P,96,94\naside,P,96,94\n", "t.csv, line 3: 'P' stands twice", "each side a name"},
        {header + "direct,a,114,25,,,,0,5\n", "t.csv, line 2: it has 9 cells and the first line names 6", "semicolons"},
        {header + "direct,\"a,114\n", "t.csv, line 2: a quote is not closed", ""},
        {header + "direct,\"a\"b,114\n", "t.csv, line 2: a quote is not closed, or text follows it", ""},
        {header + "direct,\xE4,114\n", "t.csv, line 2: it is not UTF-8", "save the table again"},
        {std::string("k") + '\0' + "i", "t.csv: it is no plain text", "UTF-8"},
        {"kind,name,level_db,at\ndirect,a,114,noon\n", "t.csv, line 2: 'noon' in 'at' is no time", "2026-05-03T"},
    };
    for (const auto& fault : faults) {
        const auto said = refusal(fault.text);
        CAPTURE(said, fault.start);
        CHECK(said.starts_with(fault.start));
        CHECK(said.find(fault.part) != std::string::npos);
        CHECK(said.find('\n') == std::string::npos);
    }
}

TEST_CASE("more fittings than a bench can have are refused at their line")
{
    auto text = header;
    for (std::size_t i = 0; i <= mostFittings; ++i)
        text += fmt::format("direct,fitting {},114\n", i);
    CHECK(refusal(text).starts_with("t.csv, line 66: this is fitting 65"));
}

TEST_CASE("no text whatever ends in anything but readings or one sentence")
{
    const std::string seed = header + "direct,\"a;b\",114.5,,,\r\nthrough\t,,113.2\nearphone,P,96,94,0.8,0.24\n";
    std::mt19937 random(20260503);
    const std::string marks =
        std::string("\",;\t\r\n .-0ea\xEF\xBB\xBF\xC3") + '\0'; // those that mean something to a reader
    int understood = 0;
    for (int round = 0; round < 3000; ++round) {
        auto text = seed;
        for (int change = 0; change < round % 4; ++change) {
            const auto at = static_cast<std::size_t>(random() % text.size());
            if (random() % 3 == 0)
                text.erase(at, 1 + random() % 5);
            else
                text.insert(at, 1, marks[random() % marks.size()]);
        }
        const auto input = readingsFromTable(text, "t.csv");
        if (input)
            ++understood;
        else
            CHECK(input.fault().sentence.find('\n') == std::string::npos);
    }
    CHECK(understood > 800); // the way beyond the faults is tried too
}
