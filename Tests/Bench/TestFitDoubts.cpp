// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitDoubts.h"
#include "Bench/FitJson.h"
#include "Bench/FitKeeping.h"
#include "Bench/FitWords.h"
#include "Bench/SimulatedFit.h"
#include "Metrology/FitBenches.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace couplet;
using namespace couplet::tests;

namespace {

// Four fittings that agree within 0.05 dB, and earphones of 0.3 dB that all say `says_dB`.
FitInput alike(const std::vector<double>& says_dB)
{
    auto input = smallBench();
    input.fittings.clear();
    for (const double level_dB : {114.66, 114.69, 114.71, 114.70})
        input.fittings.push_back({"fitting " + std::to_string(input.fittings.size() + 1),
                                  readings({level_dB - 0.03, level_dB - 0.01, level_dB + 0.01, level_dB + 0.03})});
    const char* names[] = {"P", "Q", "R", "T"};
    for (std::size_t i = 0; i < says_dB.size(); ++i)
        input.earphones.push_back(earphone(names[i], says_dB[i], 0.3));
    return input;
}

bool holds(const std::vector<std::string>& sentences, const std::string& words)
{
    return std::any_of(sentences.begin(), sentences.end(),
                       [&](const std::string& sentence) { return sentence.find(words) != std::string::npos; });
}

} // namespace

TEST_CASE("an earphone is named from a probability of one half on, and below it is not")
{
    bool below = false, above = false;
    for (int i = 0; i < 9; ++i) {
        const double says_dB = 2.70 + 0.02 * i;
        auto input = alike({1.4, 1.5, 1.3});
        input.earphones[1] = earphone("Q", says_dB, 1.0);
        const auto fit = fitCorrection(input);
        REQUIRE(fit);
        const double outside = fit->posterior.outside[1];
        CAPTURE(says_dB, outside);
        CHECK(fit->earphones[1].contradicts == (outside > 0.5));
        CHECK(holds(wordsOf(input, *fit).sentences, "Q lies outside its rating") == (outside > 0.5));
        below = below || (outside > 0.4 && outside <= 0.5);
        above = above || (outside > 0.5 && outside < 0.6);
    }
    CHECK(below);
    CHECK(above);
}

TEST_CASE("a fitting is said to repeat an error of its own from a probability of one half on")
{
    bool below = false, above = false;
    for (int i = 0; i < 9; ++i) {
        const double off_dB = 0.10 + 0.01 * i;
        auto input = alike({1.4, 1.5, 1.3});
        for (auto& reading : input.fittings[3].readings)
            reading.level_dB += off_dB;
        const auto fit = fitCorrection(input);
        REQUIRE(fit);
        const double own = fit->posterior.ownError[3];
        CAPTURE(off_dB, own);
        CHECK(holds(wordsOf(input, *fit).sentences, "The fitting 4 (") == (own > 0.5));
        below = below || (own > 0.4 && own <= 0.5);
        above = above || (own > 0.5 && own < 0.6);
    }
    CHECK(below);
    CHECK(above);
}

TEST_CASE("fittings and earphones clash beyond two standard uncertainties of their difference")
{
    bool below = false, above = false;
    for (int i = 0; i < 12; ++i) {
        const double says_dB = 2.02 + 0.02 * i;
        const auto fit = fitCorrection(alike({says_dB, says_dB + 0.05, says_dB - 0.05}));
        REQUIRE(fit);
        const auto &fitted = *fit->posterior.fittings, &heard = *fit->posterior.earphones;
        const double ratio = std::abs(fitted.mean_dB - heard.mean_dB) / std::hypot(fitted.u_dB, heard.u_dB);
        CAPTURE(says_dB, ratio);
        CHECK(fit->clash_dB().has_value() == (ratio > 2.0));
        below = below || (ratio > 1.8 && ratio <= 2.0);
        above = above || (ratio > 2.0 && ratio < 2.2);
    }
    CHECK(below);
    CHECK(above);
}

TEST_CASE("while fittings and earphones clash there is no U, nothing to use, and the headline says so")
{
    auto input = alike({2.9, 2.95, 2.85});
    input.settings.calibrator = "bench calibrator";
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    REQUIRE(fit->clash_dB());
    CHECK(*fit->clash_dB() == Approx(1.51).margin(0.1));
    CHECK_FALSE(fit->hasUncertainty());
    CHECK(fit->contradictsItself());
    const auto words = wordsOf(input, *fit, 114.02);
    CHECK(words.headline.starts_with("The evidence contradicts itself: fittings and earphones differ by 1."));
    CHECK(words.interval == "There is no correction and no uncertainty until the wrong piece is found.");
    CHECK(words.sentences.front().find("a second calibrator") == std::string::npos);
    CHECK(words.sentences.front().find("A second calibrator or one more earphone would tell") != std::string::npos);
    for (const auto& list : {words.sentences, words.notes, {words.headline, words.interval}})
        CHECK_FALSE((holds(list, "off this calibrator") || holds(list, "Between ")));
    CHECK_FALSE(correctionFrom(input, *fit, "").U_dB);
    const auto json = printedJson(jsonOf(input, *fit), JsonLayout::line);
    CHECK(json.find("\"interval_db\": null") != std::string::npos);
    CHECK(json.find("\"expanded_uncertainty_db\": null") != std::string::npos);
    CHECK(json.find("\"standard_uncertainty_db\": null") != std::string::npos);
    CHECK(json.find("\"headline\": \"The evidence contradicts itself") != std::string::npos);
}

TEST_CASE("evidence that falls apart is told before anything else, with its peaks")
{
    auto input = smallBench();
    input.fittings = {{"sleeve", readings({117.32, 117.33, 117.31, 117.32})},
                      {"collar", readings({114.32, 114.33, 114.31, 114.32})}};
    const auto fit = fitCorrection(input);
    REQUIRE(fit);
    REQUIRE(fit->posterior.peaks_dB.size() == 2);
    CHECK_FALSE(fit->hasUncertainty());
    const auto words = wordsOf(input, *fit);
    // By what the readings say: 114.32 and 117.32 less 113.31.
    CHECK(fit->posterior.peaks_dB[0] == Approx(1.01).margin(0.03));
    CHECK(fit->posterior.peaks_dB[1] == Approx(4.01).margin(0.03));
    CHECK(words.headline.starts_with("The evidence falls apart: it has peaks at "));
    CHECK(words.sentences.front() == "Find the piece that is wrong, and set it aside with the reason.");
    CHECK(holds(words.notes, "the evidence falls apart"));
}

TEST_CASE("one earphone of three that lies is named alone, and the result stands; two of three contradict it")
{
    auto input = fitOnPaper(demoScenario());
    const double before = fitCorrection(input)->correction_dB();
    input.earphones[1].level_dB += 3.4;
    const auto one = fitCorrection(input);
    REQUIRE(one);
    CHECK(one->earphones[1].contradicts == true);
    CHECK(one->earphones[0].contradicts == false);
    CHECK(one->earphones[2].contradicts == false);
    CHECK(one->hasUncertainty());
    CHECK(std::abs(one->correction_dB() - before) < 0.1);
    CHECK(holds(wordsOf(input, *one).sentences,
                "Earphone Q lies outside its rating: it says 4.62 dB, and the rest 1.45 dB"));
    CHECK(holds(wordsOf(input, *one).sentences, "It hardly moves the result."));
    input.earphones[0].level_dB += 3.4;
    const auto two = fitCorrection(input);
    REQUIRE(two);
    CHECK(two->mostLieOutside());
    CHECK_FALSE(two->hasUncertainty());
}

TEST_CASE("half of the earphones outside their ratings is the evidence's contradiction, fewer than half is not")
{
    for (const std::size_t honest : {1u, 2u, 3u}) {
        std::vector<double> says_dB(honest, 1.4);
        says_dB.push_back(9.0);
        const auto fit = fitCorrection(alike(says_dB));
        REQUIRE(fit);
        CAPTURE(honest);
        CHECK(fit->earphones.back().contradicts == true);
        CHECK(fit->mostLieOutside() == (honest == 1));
        CHECK(fit->contradictsItself() == (honest == 1));
    }
}

TEST_CASE("what no evidence can show stands beside the result, with what would show it")
{
    // Alike and tight: what they share is assumed and makes the interval.
    const auto none = alike({});
    CHECK(holds(wordsOf(none, *fitCorrection(none)).sentences, "More than half of this interval is assumed"));
    CHECK(holds(wordsOf(none, *fitCorrection(none)).sentences, "An earphone of rated sensitivity would show it."));
    // Loose ones: their scatter makes it.
    auto loose = none;
    for (auto& fitting : loose.fittings)
        fitting.readings = readings({113.9, 114.5, 115.0, 115.6});
    CHECK_FALSE(isMostlyAssumed(*fitCorrection(loose)));
    CHECK(holds(wordsOf(loose, *fitCorrection(loose)).sentences, "No earphone takes part: an error that all fittings"));
    CHECK(holds(wordsOf(loose, *fitCorrection(loose)).sentences, "a calibrator beyond its certificate"));

    const auto with = alike({1.4, 1.5});
    const auto fit = fitCorrection(with);
    CHECK(holds(wordsOf(with, *fit).sentences, "a second calibrator would show a smaller one"));
    // From where on: both half-widths together, up at 0.1 dB. Fittings alone +-0.07 dB or less, two rectangles of 0.3
    // dB that overlap by 0.5 dB about as wide.
    CHECK(*showsFrom_dB(*fit) >= 0.3);
    CHECK(*showsFrom_dB(*fit) <= 0.6);

    auto phones = with;
    phones.fittings.clear();
    CHECK(
        holds(wordsOf(phones, *fitCorrection(phones)).sentences, "if their ratings all err alike, nothing here shows"));
}

TEST_CASE("what all earphones share widens them together, and what is not known of it is said")
{
    // Without tolerance: normal. Four of u 0.12 dB; voltmeter and drift 0.2 dB, seating 0.05 dB.
    FitInput input;
    for (const char* name : {"P", "Q", "R", "T"}) {
        input.earphones.push_back(earphone(name, 1.4));
        input.earphones.back().tolerance_dB.reset();
        input.earphones.back().u_shared_dB = 0.2;
    }
    const auto shared = fitCorrection(input);
    REQUIRE(shared);
    // That one of them may lie outside widens a little, within 5 %.
    CHECK(shared->posterior.earphones->u_dB ==
          Approx(std::sqrt(0.12 * 0.12 / 4 + 0.2 * 0.2 + 0.05 * 0.05)).epsilon(0.05));
    CHECK_FALSE(holds(wordsOf(input, *shared).why, "stated whole"));
    for (auto& e : input.earphones) {
        e.u_dB = std::hypot(0.12, 0.2);
        e.u_shared_dB = 0.0;
    }
    const auto whole = fitCorrection(input);
    CHECK(whole->posterior.earphones->u_dB == Approx(std::sqrt((0.0144 + 0.04) / 4 + 0.0025)).epsilon(0.1));
    CHECK(holds(wordsOf(input, *whole).why, "the u of P, Q, R and T are stated whole and taken to be all their own"));
}
