// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/HeardTones.h"
#include "Bench/Reading.h"
#include "Bench/SimulatedPapers.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

// Where a reading changes its mind, from both sides of each edge.

using namespace couplet;

namespace {

ToneSummary tone(double frequency_Hz = 500.0)
{
    ToneSummary t;
    t.level_dBFS = -28.0;
    t.frequency = Hertz(frequency_Hz);
    t.steadiness_dB = 0.01;
    t.distortion_percent = 0.1;
    t.stretch_s = 10.0;
    t.duration_s = 10.0;
    t.sampleRate_Hz = 48000.0;
    return t;
}

Setup bench()
{
    Setup s = tests::benchOfEarphone(
        {{"correction, with the calibrator", 0.1, infiniteDegrees, Shape::normal, "typed"}}, 500.0);
    Reference& reference = s.coupler->references.front();
    reference.takenAt = "2026-05-03T12:00:00Z";
    reference.offset_dB = 122.0;
    reference.channel = 1;
    s.now = "2026-05-03T13:00:00Z";
    return s;
}

bool says(const Reading& r, const std::string& words)
{
    return std::any_of(r.notes.begin(), r.notes.end(),
                       [&](const std::string& note) { return note.find(words) != std::string::npos; });
}

} // namespace

TEST_CASE("a sensed drive is believed from half of its channel's power on, and while it stays within 0.1 dB")
{
    auto setup = bench();
    setup.driveFullScale = Volts(2.0);
    const auto sensed = [&](double share, double spread_dB) {
        auto t = tone();
        t.second_dBFS = -20.0;
        t.secondShare = share;
        t.secondSpread_dB = spread_dB;
        return makeReading(t, setup).drive;
    };
    REQUIRE(sensed(0.51, 0.0));
    CHECK(sensed(0.51, 0.0)->voltage.value == Approx(0.2)); // 2 V full scale, 20 dB below
    CHECK(sensed(0.51, 0.0)->sensed);
    CHECK_FALSE(sensed(0.49, 0.0));
    CHECK(sensed(0.9, 0.09));
    CHECK_FALSE(sensed(0.9, 0.11));
}

TEST_CASE("a sensitivity is told at the terminals, and not where what reaches them is unknown")
{
    auto setup = bench();
    setup.drive->source.reset(); // across the earphone
    setup.drive->voltage = Volts(0.1);
    // 122.0 - 28.0 + 20 = 114 dB SPL for 1 V; 114 - 30 + 10 lg 24 = 97.802 for 1 mW; 94 dB SPL at 100 mV.
    auto r = makeReading(tone(), setup);
    CHECK(*r.sensitivity.dBSPLPerVolt == Approx(114.0));
    CHECK(*r.sensitivity.dBSPLPerMilliwatt == Approx(97.8021).margin(1e-4));
    CHECK(r.sensitivity.terminalVoltsFor94->value == Approx(0.1));
    setup.drive->source = Ohms(24.0); // half of it is lost: 6.0206 dB more for 1 V at the terminals
    r = makeReading(tone(), setup);
    CHECK(*r.sensitivity.dBSPLPerVolt == Approx(120.0206).margin(1e-4));
    setup.earphone->rating.impedance.reset();
    CHECK_FALSE(makeReading(tone(), setup).sensitivity.dBSPLPerVolt);
    setup.drive->source.reset();
    r = makeReading(tone(), setup);
    CHECK(*r.sensitivity.dBSPLPerVolt == Approx(114.0));
    CHECK_FALSE(r.sensitivity.dBSPLPerMilliwatt);
    setup.coupler->references.clear(); // dBFS says nothing of an earphone
    CHECK_FALSE(makeReading(tone(), setup).sensitivity.dBSPLPerVolt);
}

TEST_CASE("an ear simulator is like an ear from 100 Hz to 10 kHz, and a coupler from 20 Hz to 16 kHz")
{
    const auto at = [](double frequency_Hz) { return makeReading(tone(frequency_Hz), bench()); };
    for (const double inside_Hz : {100.0, 1000.0, 10000.0}) {
        CHECK_FALSE(says(at(inside_Hz), "not ear-like"));
        CHECK_FALSE(says(at(inside_Hz), "means nothing for an ear"));
    }
    for (const double mere_Hz : {20.0, 99.0, 10100.0, 16000.0}) {
        CHECK(says(at(mere_Hz), "not ear-like"));
        CHECK_FALSE(says(at(mere_Hz), "means nothing for an ear"));
    }
    for (const double outside_Hz : {19.8, 16200.0})
        CHECK(says(at(outside_Hz), "means nothing for an ear"));
}

TEST_CASE("a reading tells of the reference that it is another rate, another channel, too old or from the future")
{
    auto setup = bench();
    const auto here = makeReading(tone(), setup);
    CHECK_FALSE(says(here, "Hz sampling"));
    CHECK_FALSE(says(here, "on channel"));
    CHECK_FALSE(says(here, "stale"));
    setup.channel = 2;
    CHECK(says(makeReading(tone(), setup), "taken on channel 1, this on channel 2"));
    auto faster = tone();
    faster.sampleRate_Hz = 96000.0;
    CHECK(says(makeReading(faster, setup), "taken at 48000 Hz sampling, this at 96000 Hz"));
    setup.now = "2026-05-04T11:59:00Z";
    CHECK_FALSE(says(makeReading(tone(), setup), "stale"));
    setup.now = "2026-05-04T12:01:00Z"; // 24 h are allowed
    CHECK(says(makeReading(tone(), setup), "stale: taken 24 h ago, allowed are 24 h"));
    setup.now = "2026-05-03T11:58:00Z";
    CHECK(says(makeReading(tone(), setup), "taken in the future"));
    setup.now = "2026-05-03T11:59:30Z"; // two clocks may differ by a minute
    CHECK_FALSE(says(makeReading(tone(), setup), "taken in the future"));
}

TEST_CASE("an earphone's note of its correction belongs to the coupler that it chose it for")
{
    auto setup = bench();
    setup.earphone->choseCorrectionOf = {"another coupler"};
    CHECK_FALSE(makeReading(tone(), setup).tookPartInCorrection);
    setup.earphone->choseCorrectionOf.push_back(setup.coupler->name);
    CHECK(makeReading(tone(), setup).tookPartInCorrection);
    CHECK(makeReading(tone(), setup).coupler == setup.coupler->name);
    CHECK(makeReading(tone(), setup).earphone == setup.earphone->name);
}

TEST_CASE("without a tone, clipped or far from what is expected the answer is no")
{
    CHECK_FALSE(makeReading(tone(), bench()).answersNo());
    ToneSummary silence;
    silence.whyNoLevel = "nothing is there";
    const auto nothing = makeReading(silence, bench());
    CHECK(nothing.answersNo());
    CHECK(says(nothing, "nothing is there"));
    CHECK_FALSE(nothing.measured);
    CHECK_FALSE(nothing.verdict);
    auto clipped = tone();
    clipped.clippedSamples = 1;
    CHECK(makeReading(clipped, bench()).answersNo());
    CHECK_FALSE(makeReading(clipped, bench()).verdict);
    for (const double off_dB : {-4.0, 4.0}) {
        auto far = tone();
        *far.level_dBFS += off_dB;
        CHECK(makeReading(far, bench()).verdict == Verdict::differs);
        CHECK(makeReading(far, bench()).answersNo());
    }
}
