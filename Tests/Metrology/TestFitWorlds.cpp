// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/FitWorlds.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>
#include <map>

using namespace couplet;
using namespace couplet::tests;

namespace {

// Letters as in docs/method.md. Only A, A0 and A6 are drawn as the model assumes.
const std::map<std::string, World>& worlds()
{
    using Own = World::Own;
    using Ratings = World::Ratings;
    const auto made = [](const char* title, auto&& change) {
        World w;
        w.title = title;
        change(w);
        return w;
    };
    const auto tightestOff = [](World& w) {
        w.own = Own::tightest;
        w.own_dB = 1.0;
        w.looseness_dB = {0.04, 0.10, 0.20, 0.40};
    };
    const auto unrelated = [](World& w, double by_dB) {
        w.own = Own::unrelated;
        w.own_dB = by_dB;
    };
    const auto alike = [](World& w) {
        w.own = Own::alike;
        w.own_dB = 0.6;
        w.loosest_dB = 0.06;
    };
    const auto liars = [](World& w, int count, int of) {
        w.ratings = Ratings::liars;
        w.liars = count;
        w.earphones = of;
        w.liarsBy_dB = 3.0;
    };
    static const std::map<std::string, World> all{
        {"D0", made("fittings alike, all 0.6 dB off, no earphone", [&](World& w) { alike(w), w.earphones = 0; })},
        {"D", made("fittings alike, all 0.6 dB off, 3 earphones", alike)},
        {"D4", made("the same, 4 earphones", [&](World& w) { alike(w), w.earphones = 4; })},
        {"D6", made("the same, 6 earphones", [&](World& w) { alike(w), w.earphones = 6; })},
        {"Dt", made("the same, 3 earphones of 0.5 dB", [&](World& w) { alike(w), w.tolerances_dB = {0.5}; })},
        {"J", made("two earphones of 4, 3 dB out", [&](World& w) { liars(w, 2, 4); })},
        {"I", made("ratings normal, deviation = tolerance", [](World& w) { w.ratings = Ratings::normal; })},
        {"C2", made("error unrelated to scatter, 0.8 dB", [&](World& w) { unrelated(w, 0.8); })},
        {"E0", made("calibrator 0.4 dB off, no earphone", [](World& w) { w.calibratorOff_dB = 0.4, w.earphones = 0; })},
        {"H", made("all ratings low by half to all of a", [](World& w) { w.ratings = Ratings::allHigh; })},
        {"E", made("calibrator 0.4 dB off, 3 earphones", [](World& w) { w.calibratorOff_dB = 0.4; })},
        {"K", made("ratings of one maker, mostly common", [](World& w) { w.ratings = Ratings::oneMaker; })},
        {"K6", made("the same, 6 earphones", [](World& w) { w.ratings = Ratings::oneMaker, w.earphones = 6; })},
        {"G", made("one earphone of 3 at twice its tolerance",
                   [](World& w) { w.ratings = Ratings::liarByTolerance, w.liars = 1, w.liarsBy_dB = 2.0; })},
        {"B0", made("tightest fitting 1 dB off, no earphone", [&](World& w) { tightestOff(w), w.earphones = 0; })},
        {"B", made("tightest fitting 1 dB off", tightestOff)},
        {"C", made("error unrelated to scatter, 0.4 dB", [&](World& w) { unrelated(w, 0.4); })},
        {"C0", made("the same, no earphone", [&](World& w) { unrelated(w, 0.4), w.earphones = 0; })},
        {"F", made("one earphone of 3, 3 dB out", [&](World& w) { liars(w, 1, 3); })},
        {"F4", made("one earphone of 4, 3 dB out", [&](World& w) { liars(w, 1, 4); })},
        {"V", made("voltmeter u 0.2 dB, told as shared; 6 of 0.3 dB",
                   [](World& w) { w.voltmeter_dB = 0.2, w.earphones = 6, w.tolerances_dB = {0.3}; })},
        {"V1", made("the same, within the u of each",
                    [](World& w) {
                        w.voltmeter_dB = 0.2, w.earphones = 6, w.tolerances_dB = {0.3};
                        w.voltmeterKnownAsShared = false;
                    })},
        {"A0", made("as assumed, no earphone", [](World& w) { w.earphones = 0; })},
        {"A6", made("as assumed, 6 fittings, 6 earphones", [](World& w) { w.fittings = w.earphones = 6; })},
        {"A", made("as assumed, 3 earphones", [](World&) {})},
    };
    return all;
}

} // namespace

namespace {

// The least that each world's intervals have to hold the truth, in percent, where a goal is set.
struct Goal
{
    const char* world;
    double covered;
};
constexpr Goal goals[] = {{"D", 76.0}, {"D4", 82.0}, {"E", 88.0}, {"B", 93.0}, {"C", 93.0}, {"F", 93.0}, {"F4", 93.0}};

constexpr std::uint64_t seed = 20261130;

} // namespace

TEST_CASE("intervals hold the truth in worlds that the model does not assume")
{
#ifdef __SANITIZE_ADDRESS__
    constexpr int benches = 4; // several times as slow, and the figures are the same
#else
    constexpr int benches = 15;
#endif
    // Four deviations of so few benches below the goal; the tests tagged [.long] look closer.
    for (const auto& goal : goals) {
        const auto o = outcomeOf(worlds().at(goal.world), benches, seed);
        const double share = goal.covered / 100.0;
        INFO(lineOf(o));
        CHECK(o.covered >= share - 4.0 * std::sqrt(share * (1.0 - share) / benches));
        if (goal.world[0] == 'F') {
            CHECK(o.liarNamed >= 0.9);
            CHECK(o.othersNamed <= 0.05);
            CHECK(o.halfWidth_dB > 0.3); // not the confident wrong one that a liar drags along
        }
    }
}

TEST_CASE("all worlds, 1000 benches each, one table", "[.long]")
{
    std::string table = headOfOutcomes();
    std::map<std::string, WorldOutcome> found;
    for (const auto& [letter, world] : worlds()) {
        found[letter] = outcomeOf(world, 1000, seed);
        table += "\n| " + letter + " " + lineOf(found[letter]);
    }
    WARN(table);
    for (const auto& goal : goals) {
        INFO(goal.world);
        CHECK(100.0 * found[goal.world].covered >= goal.covered);
    }
    for (const char* liar : {"F", "F4"}) {
        CHECK(found[liar].liarNamed >= 0.99);
        CHECK(found[liar].othersNamed <= 0.01);
    }
    // With an earphone the interval is wider by at most a third than that of a model that believes its assumptions:
    // median 0.33 dB over benches drawn likewise (docs/method.md).
    CHECK(found["A"].halfWidth_dB <= 0.33 * 4.0 / 3.0);
    CHECK(found["A"].covered >= 0.95);
    CHECK(found["A0"].covered >= 0.95);
    // An error that all earphones share counts as shared: told so, the interval covers as it should.
    CHECK(found["V"].covered >= 0.93);
    CHECK(found["V"].covered > found["V1"].covered);
}
