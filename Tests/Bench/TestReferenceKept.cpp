// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/HeardTones.h"
#include "Bench/LiveCalibrator.h"
#include "Bench/QuickCheck.h"
#include "Bench/ReferenceHistory.h"

#include <catch2/catch.hpp>

#include <algorithm>

// What joins a coupler's history, what it is compared with, and what a quick check makes of it: figures by hand.

using namespace couplet;
using namespace couplet::tests;

namespace {

ToneSummary heard(double level_dBFS = -9.31)
{
    auto s = calibratorHeard(level_dBFS);
    s.duration_s = 10.0;
    s.sampleRate_Hz = 96000.0;
    return s;
}

ReferenceOutcome taken(const ToneSummary& tone, const ReferenceSetup& setup)
{
    const auto outcome = takeReference(tone, setup);
    REQUIRE(outcome);
    REQUIRE(outcome->offset);
    return *outcome;
}

// The same reference again, as if it had come out so.
Reference keptAs(double offset_dB, const char* time = "2026-05-03T10:00:00Z")
{
    const auto setup = setupOnPaper();
    auto r = taken(heard(), setup).kept(setup);
    r.takenAt = time;
    r.offset_dB = offset_dB;
    return r;
}

bool says(const ReferenceOutcome& outcome, const std::string& words)
{
    return std::any_of(outcome.notes.begin(), outcome.notes.end(),
                       [&](const auto& note) { return note.find(words) != std::string::npos; });
}

} // namespace

TEST_CASE("what joins the history is the whole of what was found, and unfit stays unfit")
{
    auto setup = setupOnPaper();
    setup.channel = 2;
    setup.source = "seat1.wav";
    setup.pressure = Kilopascals(98.6);
    setup.calibrator.pressureLaw = {PressureLaw::Kind::piston, 0.0};
    const auto outcome = taken(heard(), setup);
    const auto r = outcome.kept(setup);
    CHECK(r.takenAt == "2026-05-03T12:00:00Z");
    // 114.02 - 0.2368 (20 lg(98.6 / 101.325)) - 1.36 + 9.31
    CHECK(r.offset_dB == Approx(121.7332).margin(1e-4).epsilon(0.0));
    CHECK(r.addends == outcome.offset->addends);
    CHECK(r.budget == outcome.offset->budget);
    CHECK_FALSE(r.budget.empty());
    CHECK(r.missing.empty());
    CHECK(r.calibrator == "bench calibrator");
    CHECK(r.calibratorClass == 1);
    CHECK(r.tone_dBFS == -9.31);
    CHECK(r.frequency.value == 1000.04);
    CHECK(r.sampleRate_Hz == 96000.0);
    CHECK(r.channel == 2);
    CHECK(r.pressure->value == 98.6);
    CHECK(r.source == "seat1.wav");
    CHECK(r.fitToUse);
    auto clipped = heard();
    clipped.clippedSamples = 4;
    CHECK_FALSE(taken(clipped, setup).kept(setup).fitToUse);
    setup.coupler.correction->U_dB.reset();
    const auto lacks = taken(heard(), setup);
    CHECK_FALSE(lacks.kept(setup).missing.empty());
    CHECK_FALSE(lacks.expanded);
}

TEST_CASE("every seating must be fit by itself, wherever the one stands that is not")
{
    auto off = heard();
    off.frequency = Hertz(1010.0); // 1 %, of which class 1 permits 0.7; the mean of three is within it
    const std::vector<std::vector<ToneSummary>> orders{
        {off, heard(), heard()}, {heard(), off, heard()}, {heard(), heard(), off}};
    for (const auto& seatings : orders) {
        const auto outcome = takeReference(seatings, setupOnPaper());
        REQUIRE(outcome);
        CHECK_FALSE(outcome->fitToUse);
        CHECK_FALSE(whyNotFit(*outcome).empty());
        CHECK_FALSE(outcome->kept(setupOnPaper()).fitToUse);
    }
    CHECK(takeReference({heard(), heard(), heard()}, setupOnPaper())->fitToUse);
}

TEST_CASE("a new reference is compared with those that count, and with no other")
{
    auto setup = setupOnPaper();
    for (const double offset_dB : {121.90, 122.00, 121.95, 122.05, 122.00})
        setup.coupler.references.push_back(keptAs(offset_dB));
    // Mean 121.98, s = sqrt(0.0130 / 4) = 0.0570088; t = 6.6202 for 4 degrees: t sqrt(2) s is above 0.3, and mean +
    // t s sqrt(1.2) = 122.393.
    auto outcome = taken(heard(-9.41), setup); // 122.07
    CHECK(*outcome.history.change_dB == Approx(0.07).margin(1e-9));
    CHECK(outcome.history.allowedChange_dB == 0.3);
    CHECK(outcome.history.withinLimits == true);
    CHECK(taken(heard(-9.72), setup).history.withinLimits == true);  // 122.38
    CHECK(taken(heard(-9.75), setup).history.withinLimits == false); // 122.41

    auto unfit = keptAs(130.0);
    unfit.fitToUse = false;
    auto aside = keptAs(110.0);
    aside.setAside = "gain moved";
    setup.coupler.references.push_back(unfit);
    setup.coupler.references.push_back(aside);
    outcome = taken(heard(-9.41), setup);
    CHECK(*outcome.history.change_dB == Approx(0.07).margin(1e-9));
    CHECK(outcome.history.allowedChange_dB == 0.3);
    CHECK_FALSE(says(outcome, "moved by"));
    CHECK(says(taken(heard(-9.67), setup), "moved by +0.33 dB")); // 122.33
    CHECK(says(taken(heard(-9.01), setup), "moved by \u22120.33 dB"));
    CHECK_FALSE(taken(heard(-9.41), setupOnPaper()).history.change_dB);
}

TEST_CASE("a quick check holds up to what is usual, in both directions, and moves beyond")
{
    auto setup = setupOnPaper();
    setup.coupler.references = {keptAs(121.97)}; // 114.02 - 1.36 + 9.31
    const auto checked = [&](double level_dBFS) { return quickCheck(heard(level_dBFS), setup); };
    CHECK(checked(-9.31).verdict == QuickCheck::Verdict::holds);
    CHECK(checked(-9.60).verdict == QuickCheck::Verdict::holds);
    CHECK(checked(-9.02).verdict == QuickCheck::Verdict::holds);
    CHECK(checked(-9.62).verdict == QuickCheck::Verdict::moved);
    CHECK(checked(-9.00).verdict == QuickCheck::Verdict::moved);
    CHECK(*checked(-9.62).change_dB == Approx(0.31).margin(1e-9));
    CHECK(*checked(-9.00).change_dB == Approx(-0.31).margin(1e-9));
    CHECK(checked(-9.62).allowed_dB == 0.3);
    auto brief = heard();
    brief.stretch_s = 2.7; // of three seconds
    CHECK(quickCheck(brief, setup).verdict == QuickCheck::Verdict::cannotTell);
    brief.stretch_s = 2.85;
    CHECK(quickCheck(brief, setup).verdict == QuickCheck::Verdict::holds);
    auto clipped = heard();
    clipped.clippedSamples = 1;
    clipped.headroom_dB = 0.0;
    CHECK(quickCheck(clipped, setup).verdict == QuickCheck::Verdict::cannotTell);
    // Every reason is told.
    CHECK_THAT(quickCheck(clipped, setup).sentence,
               Catch::Contains("cannot be told: ") && Catch::Contains("are clipped") &&
                   Catch::Contains("left to full scale") && Catch::Contains("since the reference of 2026-05-03"));
}

TEST_CASE("of two levels the one is believed that is nearer by three quarters of the way")
{
    auto setup = setupOnPaper();
    setup.calibrator.tones = {{Hertz(1000.0), 94.0, 0.15}, {Hertz(1000.0), 114.0, 0.15}};
    setup.coupler.references = {keptAs(121.95)};
    // Heard are tone + 121.95 + 1.36; up to 5 dB from the nearer one, which is a quarter of the 20 dB.
    const auto believed = [&](double heard_dB) -> std::optional<double> {
        const auto tone = certifiedTone(setup, Hertz(1000.0), heard_dB - 121.95 - 1.36);
        return tone ? std::optional(tone->level_dB) : std::nullopt;
    };
    CHECK(believed(114.0) == 114.0);
    CHECK(believed(109.1) == 114.0);
    CHECK(believed(118.9) == 114.0);
    CHECK_FALSE(believed(108.9));
    CHECK_FALSE(believed(99.1));
    CHECK(believed(98.9) == 94.0);
    CHECK(believed(89.1) == 94.0);
}

TEST_CASE("each point of a history tells what its reference was, with its own U")
{
    auto coupler = setupOnPaper().coupler;
    auto first = keptAs(121.95, "2026-05-01T10:00:00Z");
    first.budget = {{"offset", 0.2, infiniteDegrees, Shape::normal, "typed"}};
    auto second = keptAs(121.97, "2026-05-02T10:00:00Z");
    second.missing = {"the certificate"};
    auto third = keptAs(125.0, "2026-05-02T11:00:00Z");
    third.fitToUse = false;
    coupler.references = {first, second, third};
    const auto history = historyOf(coupler, "2026-05-02T12:30:00Z");
    REQUIRE(history.points.size() == 3);
    CHECK(history.points[0].takenAt == "2026-05-01T10:00:00Z");
    CHECK(history.points[0].offset_dB == 121.95);
    CHECK(*history.points[0].U_dB == Approx(0.4).epsilon(1e-4));
    CHECK(history.points[0].tone_dBFS == -9.31);
    CHECK(history.points[0].calibrator == "bench calibrator");
    CHECK(history.points[0].source == "simulated bench");
    CHECK_FALSE(history.points[0].current);
    CHECK_FALSE(history.points[1].U_dB);
    CHECK(history.points[1].current);
    CHECK_FALSE(history.points[2].fitToUse);
    CHECK_FALSE(history.points[2].counts());
    CHECK(history.chart.counted == 2);
    CHECK(history.age_s == 9000.0);
}

TEST_CASE("a reference is due when its allowed age has passed, and one from the future is told")
{
    auto coupler = setupOnPaper().coupler;
    coupler.allowedAge_h = 36.0;
    coupler.references = {keptAs(121.97, "2026-05-01T10:00:00Z")};
    CHECK(historyOf(coupler, "2026-05-02T09:00:00Z").due == "2026-05-02T22:00:00Z");
    CHECK(historyOf(coupler, "2026-05-02T09:00:00Z").dueText == "due in 13 h");
    CHECK_FALSE(historyOf(coupler, "2026-05-02T21:59:00Z").stale);
    CHECK(historyOf(coupler, "2026-05-02T22:01:00Z").stale);
    const auto future = historyOf(coupler, "2026-05-01T09:50:00Z");
    CHECK(future.stale);
    CHECK(future.dueText == "its age is not known: take a new reference");
    CHECK_FALSE(historyOf(coupler, "2026-05-01T09:59:30Z").stale); // clocks of two computers
}

TEST_CASE("times are told in the unit that a person would use")
{
    CHECK(durationText(59.0) == "less than a minute");
    CHECK(durationText(60.0) == "1 min");
    CHECK(durationText(3599.0) == "59 min");
    CHECK(durationText(3600.0) == "1 h");
    CHECK(durationText(47.9 * 3600.0) == "47 h");
    CHECK(durationText(48.0 * 3600.0) == "2 days");
}
