// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/PastedReadings.h"

#include <catch2/catch.hpp>

using namespace couplet;

namespace {

using Levels = std::vector<double>;

Levels column(const std::string& text)
{
    const auto pasted = pastedReadings(text, "pasted");
    if (!pasted)
        FAIL(pasted.fault().sentence);
    REQUIRE(std::holds_alternative<Levels>(*pasted));
    return std::get<Levels>(*pasted);
}

std::string refusal(const std::string& text)
{
    const auto pasted = pastedReadings(text, "pasted");
    return pasted ? "no fault" : pasted.fault().sentence;
}

} // namespace

TEST_CASE("a bare column of numbers is read with points, commas, signs and whatever ends its lines")
{
    CHECK(column("114.65\n114.69\n") == Levels{114.65, 114.69});
    CHECK(column("114,65\r\n114,69\r\n\r\n114,7") == Levels{114.65, 114.69, 114.7});
    CHECK(column("\xEF\xBB\xBF 114.65 \n\n-9,31\n\u22129.33\n+0.5\n") == Levels{114.65, -9.31, -9.33, 0.5});
    CHECK(column("114.65\t\t\n114.69;\n") == Levels{114.65, 114.69});
    CHECK(column("114") == Levels{114.0});
    CHECK(column("114.12345678901234") == Levels{114.12345678901234});
}

TEST_CASE("a column with a line that is no number is refused whole, with the line and the mend")
{
    CHECK(refusal("114.65\n\nabout 115\n114.7\n") ==
          "pasted, line 3: 'about 115' is no number, and a column of readings holds nothing else; correct it, or take "
          "the line out");
    CHECK_THAT(refusal("level\n114.65\n"), Catch::StartsWith("pasted, line 1: 'level' is no number"));
    CHECK_THAT(refusal("114.65\n1.234,5\n"), Catch::StartsWith("pasted, line 2: '1.234,5' is no number"));
    CHECK_THAT(refusal("114,65\n114, 69\n"), Catch::StartsWith("pasted, line 2: '114, 69' is no number"));
    CHECK_THAT(refusal("114.65\n114.6\t113.2\n"), Catch::StartsWith("pasted, line 2: "));
    for (const char* wrong : {"301", "-201", "nan", "1e999"})
        CHECK_THAT(refusal("114.65\n" + std::string(wrong) + "\n"),
                   Catch::Contains("line 2: '" + std::string(wrong) + "' is outside -200 to 300 dB; correct it"));
}

TEST_CASE("what has columns is a table, and one that is broken is refused as a table")
{
    const auto pasted = pastedReadings("direct\tcollar\t114,7\nthrough\t\t113.3\n", "pasted");
    REQUIRE(pasted);
    REQUIRE(std::holds_alternative<FitInput>(*pasted));
    CHECK(std::get<FitInput>(*pasted).fittings.at(0).readings.at(0).level_dB == 114.7);
    CHECK_THAT(refusal("kind,name,level_db\n114.65\n"), Catch::Contains("line 2: '114.65' is no kind of reading"));
    CHECK_THAT(refusal("no table"), Catch::Contains("'no table' is no column"));
    CHECK_THAT(refusal(""), Catch::Contains("it is empty"));
    CHECK_THAT(refusal("114\n\xE4\n"), Catch::Contains("it is not UTF-8"));
    CHECK_THAT(refusal(std::string(5u << 20, '1')), Catch::Contains("larger than 4 MB"));
}

TEST_CASE("a column may have quotes, units, and separators behind its numbers or alone on a line")
{
    CHECK(column("\"115,29\"\n\"115,31\"\n") == Levels{115.29, 115.31});
    CHECK(column("115.29 dB\n115,31dB\n\u22129.3 dB\n") == Levels{115.29, 115.31, -9.3});
    CHECK(column("\"115,129 dB\"\n") == Levels{115.129});
    CHECK(column("115.29,\n115.31,\n") == Levels{115.29, 115.31});
    CHECK(column("115,29;;\n115,31;;\n;;\n") == Levels{115.29, 115.31});
    CHECK(column("115.29\n;;\n115.31\n,\n") == Levels{115.29, 115.31});
}

TEST_CASE("commas that may part two whole numbers on every line are refused")
{
    const std::string mend = "may be one number or two; write a decimal point, or put one column there";
    CHECK(refusal("114,115\n") == "pasted, line 1: '114,115' " + mend);
    CHECK(refusal("1,114\n2,115\n") == "pasted, line 1: '1,114' " + mend);
    for (const char* two : {"114,115\n114,113\n", "1,114", "0,94\n1,95\n2,94\n", "7,114\n8,115\n", "94,101"})
        CHECK_THAT(refusal(two), Catch::Contains(mend));
}

TEST_CASE("a column with decimal commas is one where any line can be nothing else")
{
    CHECK(column("114,115\n114,65\n") == Levels{114.115, 114.65});
    CHECK(column("114,115\n114,652\n") == Levels{114.115, 114.652}); // no level is that high
    CHECK(column("114,115\n114,065\n") == Levels{114.115, 114.065});
    CHECK(column("114,115 dB\n") == Levels{114.115});
    CHECK(column("-9,212\n-9,208\n") == Levels{-9.212, -9.208});
    CHECK(column("1,94\n1,95\n") == Levels{1.94, 1.95});
    CHECK(column("114,65\n115,66\n") == Levels{114.65, 115.66});
    CHECK(column("94,94") == Levels{94.94});
}

TEST_CASE("what begins with a number is refused as a column, not for the columns it does not name")
{
    const std::string several = "is more than one number, and a column of readings holds plain numbers, one a line";
    for (const char* two : {"114.65\t113.3\n", "114.65;113.3\n", "114,115,113\n", "114.65\n114.6;113.2\n"})
        CHECK_THAT(refusal(two), Catch::Contains(several));
    CHECK_THAT(refusal("115.29 dBA\n"), Catch::StartsWith("pasted, line 1: '115.29 dBA' is no number"));
    CHECK_THAT(refusal("115.29,collar\n"), Catch::StartsWith("pasted, line 1: '115.29,collar' is no number"));
}
