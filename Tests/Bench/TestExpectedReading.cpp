// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/HeardTones.h"
#include "Bench/Reading.h"
#include "Bench/SimulatedPapers.h"

#include <catch2/catch.hpp>

#include <algorithm>

// What a reading makes of a rating: the coupler between the two, what is assumed, and the answer.

using namespace couplet;

namespace {

// Earphone S on the left, at 500 Hz, with a reference at 1 kHz.
ToneSummary toneOfS()
{
    return tests::earphoneHeard();
}

Setup benchOfS()
{
    return tests::benchOfEarphone(tests::budgetOfSketch(), 1000.04);
}

bool isSaid(const Reading& r, const std::string& words)
{
    return std::any_of(r.notes.begin(), r.notes.end(),
                       [&](const std::string& note) { return note.find(words) != std::string::npos; });
}

} // namespace

TEST_CASE("the coupler's own tolerance stands in the difference away from the reference's frequency")
{
    auto setup = benchOfS();
    const auto U_dB = [&](const Setup& s) { return makeReading(toneOfS(), s).difference->expanded->U_dB; };
    const double away = U_dB(setup);
    auto atIts = setup;
    atIts.coupler->references.front().frequency = Hertz(500.0);
    auto bare = setup;
    bare.coupler->kind = "bare microphone";
    CHECK(U_dB(atIts) == Approx(1.1787).margin(0.001)); // numpy, without the coupler
    CHECK(U_dB(bare) == U_dB(atIts));
    CHECK(away > U_dB(atIts) + 0.1);

    auto other = setup;
    other.coupler->kind = "acoustic coupler IEC 60318-5";
    const Reading r = makeReading(toneOfS(), other);
    CHECK_FALSE(r.verdict);
    CHECK(r.answersNo());
    CHECK(isSaid(r, "this kind of coupler"));
    other.coupler->judged.coupler_dB = 0.2;
    CHECK(makeReading(toneOfS(), other).verdict == Verdict::agrees);
    CHECK(U_dB(other) < away);
}

TEST_CASE("beyond the coupler's table there is no verdict")
{
    auto setup = benchOfS();
    setup.earphone->rating.frequency = Hertz(50.0);
    auto tone = toneOfS();
    tone.frequency = Hertz(50.0);
    const Reading r = makeReading(tone, setup);
    REQUIRE(r.difference);
    CHECK_FALSE(r.verdict);
    CHECK(isSaid(r, "known from 100 Hz to 10 kHz"));
}

TEST_CASE("a reading says what is assumed and what is not in it, once each")
{
    const auto standing = [](const Setup& s, const std::string& words) {
        const Reading r = makeReading(toneOfS(), s);
        return std::count_if(r.standing.begin(), r.standing.end(),
                             [&](const std::string& each) { return each.find(words) != std::string::npos; });
    };
    auto setup = benchOfS();
    CHECK(standing(setup, "room pressure is not in U") == 1);
    CHECK(standing(setup, "one insertion is assumed as u 0.11 dB") == 1);
    CHECK(standing(setup, "1 mW") == 0);
    CHECK(standing(setup, "across the earphone") == 0);
    setup.coupler->judged.insertion_dB = 0.2;
    CHECK(standing(setup, "insertion") == 0);
    setup.drive->source.reset();
    setup.drive->acrossByDefault = true;
    CHECK(standing(setup, "the drive counts as the voltage across the earphone") == 1);

    setup.earphone->rating.form = Rating::Form::perMilliwatt;
    setup.earphone->rating.level_dB = 96.2;
    // 20 lg of (24 / 144) / (19.2 / 139.2)
    CHECK(standing(setup, "if its source was 120 \u03a9, it may be off by 1.6 dB") == 1);
    setup.earphone->rating.ratedSource = Ohms(120.0);
    CHECK(standing(setup, "1 mW") == 0);

    setup.coupler->references.clear();
    CHECK(standing(setup, "room pressure") == 0); // in dBFS nothing is claimed
}

TEST_CASE("once a rating is given, every answer but 'agrees' is no")
{
    auto setup = benchOfS();
    setup.largestU_dB = 1.0;
    CHECK(makeReading(toneOfS(), setup).answersNo()); // too uncertain to say
    setup = benchOfS();
    setup.drive.reset();
    CHECK(makeReading(toneOfS(), setup).answersNo()); // cannot be judged
    setup.earphone.reset();
    CHECK_FALSE(makeReading(toneOfS(), setup).answersNo()); // nothing was asked
}
