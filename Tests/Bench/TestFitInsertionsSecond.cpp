// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitEarphones.h"
#include "Bench/SimulatedPapers.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

// Level and u of several insertions by another hand than the code's: published arithmetic, and earphones whose truth is
// known because a generator put them in.

using namespace couplet;

namespace {

FitEarphone unread()
{
    return *unreadEarphone(earphoneOnPaper(demoScenario(), 0));
}

EarphoneReading readingAt(double level_dB, double expected_dB, double rest_dB)
{
    EarphoneReading reading{level_dB, expected_dB, 0.8, rest_dB, 0.11, 0.05};
    reading.seatedAnew = true;
    return reading;
}

} // namespace

TEST_CASE("twenty insertions have the published mean and the published uncertainty of a mean")
{
    // JCGM 100:2008 4.4.3: mean 100.145, s of the mean 0.333 (data from memory, see the table's first line).
    auto e = unread();
    for (const auto& row : published::table("gum_4_4_3_temperature").rows)
        addInsertion(e, readingAt(row.number("t_C"), 94.6, 0.0));
    REQUIRE(e.insertions.size() == 20);
    CHECK(e.level_dB == Approx(100.145).margin(5e-4).epsilon(0.0));
    CHECK(*e.u_dB == Approx(0.333).margin(5e-4).epsilon(0.0));
    CHECK(e.says_dB() == Approx(5.545).margin(5e-4).epsilon(0.0));
}

TEST_CASE("one and two insertions are as uncertain as is assumed of one, by hand")
{
    auto e = unread();
    addInsertion(e, readingAt(96.0, 94.6, 0.06));
    CHECK(*e.u_dB == Approx(0.125300).epsilon(1e-5)); // sqrt(0.06^2 + 0.11^2)
    addInsertion(e, readingAt(97.0, 94.6, 0.06));
    CHECK(e.level_dB == Approx(96.5));
    CHECK(*e.u_dB == Approx(0.0982344).epsilon(1e-5)); // sqrt(0.06^2 + 0.11^2 / 2), whatever they scatter by
    auto shaken = unread();
    for (const double level_dB : {96.0, 97.0, 98.0})
        addInsertion(shaken, readingAt(level_dB, 94.6, 0.06));
    CHECK(*shaken.u_dB == Approx(0.580459).epsilon(1e-5)); // s = 1: sqrt(0.06^2 + 1 / 3)
    auto worst = unread();
    addInsertion(worst, readingAt(96.0, 94.6, 0.06));
    addInsertion(worst, readingAt(96.0, 94.6, 0.30));
    addInsertion(worst, readingAt(96.0, 94.6, 0.02));
    CHECK(*worst.u_dB == Approx(0.30)); // the rest is shared, so that more insertions do not lessen the worst of it
}

TEST_CASE("the u of several insertions is how far their mean really strays, whatever the drives were")
{
    // Earphones of one true error, five insertions each with a drive of its own. Over many of them the mean square of
    // what is wrong must be that which is claimed: sigma^2 / n, of which s^2 / n is an estimate without bias.
    constexpr double error_dB = 1.3, sigma_dB = 0.2, rest_dB = 0.05;
    constexpr int earphones = 10000, insertions = 5;
    std::mt19937_64 engine{19930601};
    std::normal_distribution<double> insertion_dB(0.0, sigma_dB);
    std::uniform_real_distribution<double> drive_dBV(-30.0, -10.0);
    double wrong = 0.0, claimed = 0.0, mean = 0.0;
    for (int i = 0; i < earphones; ++i) {
        auto e = unread();
        for (int n = 0; n < insertions; ++n) {
            const double promised_dB = 112.4 + drive_dBV(engine);
            addInsertion(e, readingAt(promised_dB + error_dB + insertion_dB(engine), promised_dB, rest_dB));
        }
        const double off_dB = e.says_dB() - error_dB;
        wrong += off_dB * off_dB / earphones;
        mean += off_dB / earphones;
        claimed += (*e.u_dB * *e.u_dB - rest_dB * rest_dB) / earphones;
    }
    const double truth = sigma_dB * sigma_dB / insertions;
    CHECK(std::abs(mean) < 4.0 * std::sqrt(truth / earphones));
    CHECK(wrong == Approx(truth).epsilon(0.06)); // four times the deviation of a mean of so many squares
    CHECK(claimed == Approx(truth).epsilon(0.03));
}
