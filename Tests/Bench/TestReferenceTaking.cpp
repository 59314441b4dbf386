// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/HeardTones.h"
#include "Bench/LiveCalibrator.h"
#include "Bench/ReferenceHistory.h"
#include "Library/Folder.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace couplet;
using namespace couplet::tests;

namespace {

ToneSummary calibratorTone(double level_dBFS = -9.31)
{
    return calibratorHeard(level_dBFS);
}

Reference referenceAt(const char* time, double offset_dB)
{
    Reference r;
    r.takenAt = time;
    r.offset_dB = offset_dB;
    r.calibrator = "bench calibrator";
    r.sampleRate_Hz = 48000.0;
    return r;
}

std::string all(const std::vector<std::string>& sentences)
{
    std::string text;
    for (const auto& s : sentences)
        text += s + "\n";
    return text;
}

ReferenceOutcome taken(const std::vector<ToneSummary>& seatings, const ReferenceSetup& setup = setupOnPaper())
{
    const auto outcome = takeReference(seatings, setup);
    INFO((outcome ? std::string() : outcome.fault().sentence));
    REQUIRE(outcome);
    return *outcome;
}

Calibrator twoLevels()
{
    auto calibrator = calibratorOnPaper(demoScenario());
    calibrator.tones = {{Hertz(1000.0), 94.03, 0.15}, {Hertz(1000.0), 114.02, 0.15}};
    return calibrator;
}

} // namespace

TEST_CASE("several seatings are judged by their worst and used by their mean")
{
    auto noisy = calibratorTone(-9.35);
    noisy.noise_dBFS = -70.0;
    noisy.headroom_dB = 5.0;
    const auto outcome = taken({calibratorTone(-9.29), noisy});
    CHECK(outcome.fitToUse);
    CHECK(*outcome.tone.level_dBFS == Approx(-9.32));
    CHECK(*outcome.tone.noise_dBFS == -70.0);
    CHECK(*outcome.tone.headroom_dB == 5.0);
    CHECK(outcome.seatings_dBFS.size() == 2);
    CHECK(outcome.offset->level_dB == Approx(121.98));
}

TEST_CASE("one seating that is not fit makes the reference unfit, and is named")
{
    auto loose = calibratorTone();
    loose.slope_dBPerSecond = 0.056;
    const auto outcome = taken({calibratorTone(), calibratorTone(), loose});
    CHECK_FALSE(outcome.fitToUse);
    CHECK_THAT(all(outcome.notes), Catch::Contains("seating 3: the level moves evenly by +0.056 dB/s"));
    CHECK_THAT(whyNotFit(outcome), Catch::Contains("+0.056 dB/s"));
    auto off = calibratorTone();
    off.frequency = Hertz(1008.0); // the mean of three is within 0.7 %, this one is not
    CHECK_FALSE(taken({calibratorTone(), calibratorTone(), off}).fitToUse);
    ToneSummary silence;
    silence.whyNoLevel = "nothing is there";
    CHECK_FALSE(taken({calibratorTone(), silence}).offset);
}

TEST_CASE("seatings that differ by more than 0.2 dB are said to")
{
    CHECK_THAT(all(taken({calibratorTone(-9.2), calibratorTone(-9.5)}).notes), Catch::Contains("differ by 0.30 dB"));
    CHECK_THAT(all(taken({calibratorTone(-9.3), calibratorTone(-9.4)}).notes), !Catch::Contains("differ by"));
}

TEST_CASE("two levels at one frequency are told apart by what is stated, else by the last reference")
{
    auto setup = setupOnPaper();
    setup.calibrator = twoLevels();
    CHECK_FALSE(takeReference(calibratorTone(), setup)); // nothing to go by
    setup.level_dB = 114.0;
    CHECK(taken({calibratorTone()}, setup).certified.level_dB == 114.02);
    setup.level_dB = 104.0;
    CHECK_FALSE(takeReference(calibratorTone(), setup));
    setup.level_dB.reset();
    setup.coupler.references = {referenceAt("2026-05-03T10:00:00Z", 121.97)};
    const auto high = taken({calibratorTone(-9.31)}, setup);
    CHECK(high.certified.level_dB == 114.02);
    CHECK_THAT(all(high.notes), Catch::Contains("a gain that moved by the 19.99 dB"));
    CHECK(taken({calibratorTone(-29.30)}, setup).certified.level_dB == 94.03);
    CHECK_FALSE(takeReference(calibratorTone(-19.0), setup)); // between the two
}

TEST_CASE("that linearity was not checked is said until a second level was heard; a gross miss is unfit")
{
    auto setup = setupOnPaper();
    setup.calibrator = twoLevels();
    setup.level_dB = 114.0;
    CHECK_THAT(all(taken({calibratorTone()}, setup).notes), Catch::Contains("linearity was not checked"));
    setup.secondLevel = calibratorTone(-29.30);
    const auto linear = taken({calibratorTone()}, setup);
    CHECK(linear.fitToUse);
    CHECK_THAT(all(linear.notes), !Catch::Contains("linearity was not checked"));
    // Through a compressor of 1.2:1 and 1.8:1 and an expander of 1:1.5.
    for (const double share : {1.0 / 1.2, 1.0 / 1.8, 1.5}) {
        setup.secondLevel = calibratorTone(-9.31 - share * 19.99);
        const auto outcome = taken({calibratorTone()}, setup);
        CAPTURE(share);
        CHECK_FALSE(outcome.fitToUse);
        CHECK_THAT(whyNotFit(outcome), Catch::Contains("the step between the calibrator's levels reads"));
    }
    setup.secondLevel = calibratorTone(-9.31 - 0.25 * 19.99); // 4:1 is taken for the wrong level
    CHECK_FALSE(takeReference({calibratorTone()}, setup));
}

TEST_CASE("a second level that is none is refused with what to do")
{
    auto setup = setupOnPaper();
    setup.calibrator = twoLevels();
    setup.level_dB = 114.0;
    setup.secondLevel = calibratorTone(-9.31); // not switched
    CHECK_THAT(takeReference(calibratorTone(), setup).fault().sentence, Catch::Contains("switch the calibrator"));
    setup.secondLevel = calibratorTone(-29.32);
    CHECK(taken({calibratorTone()}, setup).step->measured_dB == Approx(20.01));
    setup.secondLevel->frequency = Hertz(250.0);
    CHECK_FALSE(takeReference(calibratorTone(), setup));
    setup.secondLevel = ToneSummary{};
    CHECK_FALSE(takeReference(calibratorTone(), setup));
    setup.calibrator = calibratorOnPaper(demoScenario());
    setup.secondLevel = calibratorTone(-29.32);
    CHECK_THAT(takeReference(calibratorTone(), setup).fault().sentence, Catch::Contains("no second level"));
}

TEST_CASE("a history shows every point, the current one, its age and when it is due")
{
    auto coupler = couplerOnPaper(demoScenario());
    coupler.references = {referenceAt("2026-05-01T10:00:00Z", 121.95), referenceAt("2026-05-02T10:00:00Z", 122.24),
                          referenceAt("2026-05-03T10:00:00Z", 121.97)};
    coupler.references[1].setAside = "gain moved";
    auto history = historyOf(coupler, "2026-05-03T12:30:00Z");
    REQUIRE(history.points.size() == 3);
    CHECK(history.points[2].current);
    CHECK_FALSE(history.points[1].counts());
    CHECK(history.chart.counted == 2);
    CHECK(*history.age_s == Approx(9000.0));
    CHECK(history.due == "2026-05-04T10:00:00Z");
    CHECK(history.dueText == "due in 21 h");
    CHECK_FALSE(history.stale);
    history = historyOf(coupler, "2026-05-06T11:00:00Z");
    CHECK(history.stale);
    CHECK(history.dueText == "stale for 2 days: take a new reference");
}

TEST_CASE("a drift that the budget does not cover is said")
{
    auto coupler = couplerOnPaper(demoScenario());
    coupler.allowedAge_h = 96.0;
    for (int day = 1; day <= 9; ++day)
        coupler.references.push_back(
            referenceAt(("2026-05-0" + std::to_string(day) + "T10:00:00Z").c_str(), 122.0 + 0.03 * day));
    const auto notes = all(historyOf(coupler, "2026-05-09T12:00:00Z").notes);
    CHECK_THAT(notes, Catch::Contains("drifts by +0.0300") && Catch::Contains("comes to 0.12 dB"));
}

TEST_CASE("a point is set aside with a reason and put back, and never deleted")
{
    auto coupler = couplerOnPaper(demoScenario());
    coupler.references = {referenceAt("2026-05-01T10:00:00Z", 121.95), referenceAt("2026-05-02T10:00:00Z", 122.24),
                          referenceAt("2026-05-02T10:00:00Z", 122.25)};
    REQUIRE(setAside(coupler, "2026-05-02T10:00:00Z", "gain moved"));
    CHECK(coupler.references[2].setAside == "gain moved"); // of two at one time the newest
    REQUIRE(setAside(coupler, "2026-05-02T10:00:00Z", "gain moved"));
    CHECK(coupler.references[1].setAside == "gain moved");
    CHECK(coupler.current() == &coupler.references[0]);
    CHECK_FALSE(setAside(coupler, "2026-05-02T10:00:00Z", "gain moved"));
    REQUIRE(setAside(coupler, "2026-05-02T10:00:00Z", ""));
    CHECK(coupler.current() == &coupler.references[2]);
    CHECK(coupler.references.size() == 3);
    CHECK_FALSE(setAside(coupler, "2026-05-01T10:00:00Z", ""));
    CHECK_FALSE(setAside(coupler, "2026-05-09T10:00:00Z", "x"));
    CHECK_FALSE(setAside(coupler, 7, "x"));
    CHECK_FALSE(setAside(coupler, 0, "two\nlines"));
    CHECK_FALSE(setAside(coupler, 0, std::string(500, 'x')));
}

TEST_CASE("what nobody can know of the present is said")
{
    auto coupler = couplerOnPaper(demoScenario());
    auto calibrator = calibratorOnPaper(demoScenario());
    coupler.references = {referenceAt("2026-05-03T10:00:00Z", 121.97)};
    const BenchNow same{48000.0, 1, "2026-05-03"};
    CHECK_THAT(all(cannotBeKnown(coupler, calibrator, same)),
               Catch::Contains("cannot be seen by software") && Catch::Contains("change of device") &&
                   !Catch::Contains("sample rate was") && !Catch::Contains("channel 1,"));
    CHECK_THAT(all(cannotBeKnown(coupler, calibrator, {96000.0, 2, "2026-05-03"})),
               Catch::Contains("48000 Hz at the reference and is 96000 Hz") && Catch::Contains("this is channel 2"));
    coupler.gainNote = "knob at 12 o'clock";
    calibrator.due = "2026-05-02";
    calibrator.name = "another";
    CHECK_THAT(all(cannotBeKnown(coupler, calibrator, same)), Catch::Contains("noted is 'knob at 12 o'clock'") &&
                                                                  Catch::Contains("due on 2026-05-02") &&
                                                                  Catch::Contains("taken with 'bench calibrator'"));
}

TEST_CASE("judged terms travel with their coupler")
{
    auto coupler = couplerOnPaper(demoScenario());
    coupler.judged = {0.03, 0.01, 0.07, Kilopascals(0.2), 0.1, 0.08, 0.15};
    const auto text = textOf(Item(coupler));
    const auto back = itemFrom(text, "file");
    REQUIRE(back);
    CHECK(std::get<Coupler>(*back) == coupler);
    CHECK_THAT(text, Catch::Contains("\"barometer_kPa\": 0.2"));
}
