// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/ResponseTable.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

const std::vector<ResponsePoint> expected = {{Hertz{20.0}, -0.5}, {Hertz{1000.5}, 0.0}, {Hertz{20000.0}, 1.25}};

std::string faultOf(const std::string& text)
{
    const auto table = parseResponseTable(text, "mic.txt");
    return table ? "it was taken" : table.fault().sentence;
}

} // namespace

TEST_CASE("a response table reads the same however its columns are parted")
{
    const std::vector<const char*> texts = {
        "20 -0.5\n1000.5 0\n20000 1.25\n",
        "20\t-0.5\n1000.5\t0\n20000\t1.25",
        "  20.0   -0.50 \r\n\r\n 1000.5  +0.0\r\n 2e4  1.25\r\n",
        "20,-0.5\n1000.5,0\n20000,1.25\n",
        "20, -0.5\n1000.5, 0\n20000, 1.25\n",
        "20;-0,5\n1000,5;0\n20000;1,25\n",
        "20 ; -0,5\n1000,5 ; 0,0\n20000,0 ; 1,25;\n",
        "20\t-0,5\n1000,5\t0\n20000\t1,25\n",
        "20 -0,5\n1000,5 0\n20000 1,25\n",
        "20 -0.5 12.5\n1000.5 0 -3\n20000 1.25 -170.1\n",
        "20;-0,5;12,5\r1000,5;0;-3\r20000;1,25;-170,1\r",
        "\xEF\xBB\xBF* microphone 12, 2026\nFreq[Hz] SPL[dB] Phase\n\"calibrated at 1000 Hz\"\n\n"
        "20 -0.5\n# halfway\n1000.5 0\n; end\n20000 1.25\n",
        "\n\n! made for tests\n20.0\t -0.5\t\n1000.5\t 0.0\t\n20000.0\t 1.25\t\n",
        "frequency;response;phase\nHz;dB;degree\n20;-0,5;\n1000,5;0;\n20000;1,25;\n",
        "\"frequency\",\"response\"\r\n20,-0.5\r\n1000.5,0\r\n20000,1.25\r\n",
        "Level at 94 dB, 1000 Hz: 0 dB\n20 -0.5\n* 500 is left out\n1000.5 0\n20000 1.25\n\x1A",
        "2.0E+01 -5.0E-01\n1.0005E+03 0\n2.0000e4 1.25e0\n",
        "Empfindlichkeit: 12,1 mV/Pa\n3\n20 -0.5\n1000.5 0\n20000 1.25\n",
    };
    for (const auto* text : texts) {
        INFO(text);
        const auto table = parseResponseTable(text, "mic.txt");
        REQUIRE(table);
        CHECK(*table == expected);
    }
}

TEST_CASE("a response table that cannot be meant is refused with its line and the mend")
{
    CHECK(faultOf("20 0\n100 0\n100 1\n") == "mic.txt, line 3: 100 Hz does not lie above the 100 Hz before it; put the "
                                             "rows in ascending order, each frequency once");
    CHECK(faultOf("# x\n20 0\n\n100 nan\n") ==
          "mic.txt, line 4: a number is not finite; correct it or take the line out");
    CHECK(faultOf("20 0\n1e999 1\n") == "mic.txt, line 2: a number is not finite; correct it or take the line out");
    CHECK(faultOf("0 0\n10 1\n") == "mic.txt, line 1: the frequency 0 is not above 0 Hz; correct it");
    CHECK(faultOf("20 -40.01\n100 0\n") == "mic.txt, line 1: -40.01 dB is outside -40 to 40 dB; give the response "
                                           "relative to that at the reference frequency");
    CHECK(faultOf("20 0\n") == "mic.txt: it has 1 of the at least 2 rows needed; give each a frequency in Hz and a "
                               "level in dB, as numbers without units");
    CHECK(faultOf("") == "mic.txt: it has 0 of the at least 2 rows needed; give each a frequency in Hz and a "
                         "level in dB, as numbers without units");
    CHECK(faultOf("20 0\n100 0\nend of file\n") ==
          "mic.txt, line 3: it is no row of numbers; take it out or begin it with #");
    CHECK(faultOf("20 0\n100\n") == "mic.txt, line 2: it has no level beside the frequency; add it in dB or take the "
                                    "line out");
    CHECK(faultOf("20,5,-0,5\n100,5,0,5\n") == "mic.txt, line 1: it has 4 columns, but must have frequency, "
                                               "level and perhaps phase; take the others out, or "
                                               "write decimal points where commas are both");
    CHECK(faultOf("20 0.5\n100 0,5\n") ==
          "mic.txt, line 2: decimal points and decimal commas are mixed; write decimal points throughout");
    CHECK(faultOf(std::string("2\0000\0 \0000\0", 8)) == "mic.txt: it is no plain text; save it again as UTF-8");
}

TEST_CASE("the limits of a response table belong to it")
{
    CHECK(parseResponseTable("20 -40\n100 40\n", "mic.txt"));
}

TEST_CASE("a response table is read from its file")
{
    const Scratch scratch;
    writeContent(scratch.path / "mic.txt", "20 -0.5\n1000.5 0\n20000 1.25\n");
    CHECK(*readResponseTable(scratch.path / "mic.txt") == expected);
    CHECK(readResponseTable(scratch.path / "none").fault().sentence ==
          (scratch.path / "none").string() +
              ": it could not be read (No such file or directory); check its name and its permissions");
    CHECK_FALSE(readResponseTable(scratch.path));
}
