// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitKeeping.h"
#include "Bench/FitWords.h"
#include "Bench/ReadingsTable.h"
#include "Bench/SimulatedFit.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace couplet;

namespace {

FitInput bench(const std::string& lines)
{
    auto input = readingsFromTable("kind,name,level_db,expected_db,tolerance_db,expanded_uncertainty_db,set_aside,at,"
                                   "frequency_hz,calibrator\n" +
                                       lines,
                                   "t.csv");
    if (!input)
        FAIL(input.fault().sentence);
    input->settings.u_calibrator_dB = 0.075;
    return *input;
}

bool noted(const FitInput& input, const std::string& words)
{
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    const auto notes = notesOf(input, *fit);
    return std::any_of(notes.begin(), notes.end(),
                       [&](const std::string& note) { return note.find(words) != std::string::npos; });
}

const std::string collar = "direct,collar,114.65\ndirect,collar,114.69\ndirect,collar,114.72\ndirect,collar,114.78\n";
const std::string through = "through,,113.26\nthrough,,113.30\nthrough,,113.34\n";
const std::string earphoneP = "earphone,P,96.0,94.6,1.0,0.24\n";

} // namespace

TEST_CASE("the sketch's fit is told in the sketch's words")
{
    const auto input = fitOnPaper(demoScenario());
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    const auto words = wordsOf(input, *fit, 114.02);
    CHECK(words.headline == "Take 1.44 dB off this calibrator: its 114.02 dB stands for 112.58 dB at the coupler "
                            "microphone.");
    CHECK(words.interval == "Between 0.95 and 2.05 dB (95 %).");
    REQUIRE(words.sentences.size() == 4);
    CHECK(words.sentences[0] == "The silicone collar decides; the bare adapter and the paper shim read high, and count "
                                "for little: their readings scatter by 0.45 and 0.20 dB.");
    CHECK(words.sentences[1] == "An error that all fittings share, or a calibrator beyond its certificate, would show "
                                "from 0.9 dB on. One more earphone, one of closer tolerance or a second calibrator "
                                "would show a smaller one.");
    CHECK(words.sentences[2] == "No earphone contradicts the rest.");
    CHECK(words.sentences[3].starts_with("No two fittings can be told apart"));
    CHECK(words.notes.empty());
    CHECK(decidingPiece(*fit) == "the silicone collar");
}

TEST_CASE("a piece that lies outside the interval is not said to decide, but to move the result, with what it says")
{
    const auto input = bench(collar + through + "earphone,P,96.0,94.6,1.0,0.24\nearphone,Q,97.3,94.6,1.0,0.24\n");
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    const auto& q = fit->earphones[1];
    REQUIRE(q.says_dB > fit->posterior.all.high_dB);
    const auto words = wordsOf(input, *fit);
    CHECK(words.sentences.front() == "Q moves the result most, though it says 2.70 dB, above the interval.");
    CHECK(decidingPiece(*fit).empty());
}

TEST_CASE("each poor bench has its sentence")
{
    CHECK(noted(bench("direct,collar,114.65\n" + through), "'collar' has one reading: its scatter is unknown"));
    CHECK(noted(bench("direct,a,114.6\ndirect,a,114.6\n" + through), "the readings of 'a' are all equal"));
    CHECK(noted(bench(collar + earphoneP), "there is no reading through the coupler: the fittings say nothing"));
    CHECK(noted(bench(collar + "through,,113.3\n"), "there is one reading through the coupler"));
    CHECK(noted(bench(collar + through), "no earphone takes part"));
    CHECK(noted(bench(collar + through), "there is one fitting"));
    CHECK(noted(bench(earphoneP), "there is no fitting: the earphones alone choose"));
    CHECK(noted(bench(collar + through + "earphone,P,96.0,94.6,1.0,\n"), "'P' takes no part: the uncertainty of its"));
    CHECK(noted(bench(collar + through + earphoneP), "keep one aside"));
    CHECK(noted(bench(collar + through + "earphone,P,103,94.6,0.5,0.24\nearphone,Q,85,94.6,0.5,0.24\n"),
                "the evidence contradicts itself: 2 of 2 earphones lie outside their ratings"));
    CHECK(noted(bench(collar + through + "aside,S,103,94.6,0.5,0.24\n"), "'S', kept aside, says 8.40 dB"));
    CHECK(noted(bench("direct,a,113.0,,,,cable moved\n" + collar + through), "every reading of 'a' is set aside"));
    CHECK(noted(bench("direct,collar,113.0,,,,cable moved\n" + collar + through), "is set aside: cable moved"));
    auto input = bench(collar + through);
    input.settings.u_calibrator_dB.reset();
    CHECK(noted(input, "the uncertainty of the calibrator's level is not stated"));
    input.settings.microphoneBuiltIn = false;
    CHECK(noted(input, "no correction is needed"));
}

TEST_CASE("physics that is unlikely is pointed out")
{
    CHECK(noted(bench("direct,a,112.0\ndirect,a,112.1\n" + through), "the correction is negative"));
    CHECK(noted(bench("direct,a,122.00\ndirect,a,122.01\ndirect,a,122.02\n" + through), "above 6 dB"));
    CHECK_FALSE(noted(bench(collar + through), "the correction is"));
    CHECK(noted(bench("direct,a,114,,,,,,1000\ndirect,a,114.1,,,,,,250\n" + through),
                "1 of the readings of 'a' was not at 1 kHz"));
    CHECK(noted(bench("direct,a,114,,,,,,,one\ndirect,a,114.1,,,,,,,two\n" + through), "not made with 'one'"));
    std::string slipping;
    const char* levels[] = {"94.01", "93.98", "94.03", "93.94", "94.06", "93.90", "94.13", "93.82", "94.21", "93.70"};
    for (int i = 0; i < 10; ++i)
        slipping += std::string("direct,a,") + levels[i] + ",,,,," + std::to_string(60 * i) + "\n";
    CHECK(noted(bench(slipping + through), "the scatter of 'a' grows with time"));
    CHECK(noted(bench("direct,a,94\ndirect,a,94.01\ndirect,a,94.02\ndirect,a,94.01\ndirect,a,97\n" + through),
                "reading 5 of 'a' (97.00 dB) is an outlier: Grubbs' test"));
    CHECK(noted(bench("direct,a,110.00\ndirect,a,110.01\ndirect,a,110.02\ndirect,b,119.00\ndirect,b,119.01\n"
                      "direct,b,119.02\n" +
                      through),
                "the evidence falls apart"));
}

TEST_CASE("intervals are printed outward")
{
    CHECK(loweredText(0.955) == "0.95");
    CHECK(loweredText(-0.314) == "\u22120.32");
    CHECK(raisedText(1.8512) == "1.86");
    CHECK(raisedText(-0.319) == "\u22120.31");
}

TEST_CASE("a correction from a fit carries its U, origin, date, calibrator and frequency")
{
    auto input = fitOnPaper(demoScenario());
    const auto fit = fitCorrection(input);
    const auto c = correctionFrom(input, *fit, "2026-05-03T12:04:11Z");
    CHECK(c.value_dB == Approx(1.441).margin(0.002));
    CHECK(*c.U_dB == Approx(2.0 * 0.2716).margin(0.003));
    CHECK(c.includesCalibrator);
    CHECK(c.calibrator == "bench calibrator");
    CHECK(c.frequency == Hertz(1000.0));
    CHECK(c.origin == "fit of 4 fittings and 3 earphones, mostly the silicone collar");
    CHECK(c.date == "2026-05-03T12:04:11Z");
    input.settings.u_calibrator_dB.reset();
    const auto bare = correctionFrom(input, *fitCorrection(input), "2026-05-03T12:04:11Z");
    CHECK_FALSE(bare.U_dB);
    CHECK_FALSE(bare.includesCalibrator);
}

TEST_CASE("a sentence names a few fittings that read astray, and counts the others")
{
    std::string lines = through + collar + earphoneP;
    for (const char* phone : {"Q", "R", "T"}) // what holds the result where it is
        lines += std::string("earphone,") + phone + ",96.0,94.6,0.3,0.24\n";
    for (const char* tight : {"cork", "shim", "sleeve"})
        for (const char* level : {"114.66", "114.69", "114.72", "114.77"})
            lines += std::string("direct,") + tight + "," + level + "\n";
    for (int i = 0; i < 9; ++i)
        for (const char* level : {"118.0", "121.2", "115.1"})
            lines += "direct,loose " + std::to_string(i + 1) + "," + level + "\n";
    const auto input = bench(lines);
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    const auto words = wordsOf(input, *fit);
    const auto named = [&](const std::string& text) { return words.sentences.front().find(text) != std::string::npos; };
    CHECK(named("the loose 1, the loose 2, the loose 3 and 6 more read high"));
    CHECK_FALSE(named("loose 4"));
}

TEST_CASE("a correction that physics speaks against says so before anything else")
{
    const auto exchanged = bench("direct,collar,112.0\ndirect,collar,112.1\nthrough,,113.3\nthrough,,113.4\n");
    const auto negative = fitCorrection(exchanged);
    REQUIRE(negative);
    CHECK(wordsOf(exchanged, *negative).sentences.front().starts_with("The correction is negative"));
    const auto open = bench("direct,collar,122.0\ndirect,collar,122.1\nthrough,,113.3\nthrough,,113.4\n");
    const auto large = fitCorrection(open);
    REQUIRE(large);
    CHECK(wordsOf(open, *large).sentences.front() ==
          "The correction is above 6 dB: is a seal open, or the calibrator loose?");
}

TEST_CASE("a fitting without readings is not said to have them set aside")
{
    auto input = bench(collar + through);
    input.fittings.push_back({"new one", {}});
    CHECK(noted(input, "has no reading yet"));
    CHECK_FALSE(noted(input, "is set aside"));
}
