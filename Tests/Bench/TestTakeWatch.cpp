// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveCalibrator.h"
#include "Bench/Reading.h"
#include "Bench/Takes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

// Takes that are unfit in one way each, and good ones that look a little like them. The truth is what was put in.
using namespace couplet;
using namespace couplet::tests;

namespace {

// An earphone that should play just this, U 0.5 dB.
Reading readingOf(const Samples& take)
{
    Setup setup;
    setup.offset = TypedOffset{120.0, 0.5};
    Earphone earphone;
    earphone.rating.level_dB = 100.0;
    earphone.rating.tolerance_dB = 0.5;
    earphone.rating.frequency = Hertz(1000.0);
    earphone.rating.impedance = Ohms(24.0);
    setup.earphone = earphone;
    Drive drive;
    drive.voltage = Volts(1.0);
    drive.meterAccuracy = Percent(0.5);
    setup.drive = drive;
    return makeReading(heardIn(take), setup);
}

bool isFit(const Samples& take)
{
    ReferenceSetup setup = setupOnPaper();
    setup.calibrator.calibratorClass = 2;
    const auto outcome = takeReference(heardIn(take), setup);
    REQUIRE(outcome);
    if (!outcome->fitToUse && outcome->tone.level_dBFS)
        CHECK_FALSE(whyNotFit(*outcome).empty());
    return outcome->fitToUse;
}

std::string all(const std::vector<std::string>& notes)
{
    std::string text;
    for (const auto& note : notes)
        text += note + "\n";
    return text;
}

void unfit(const Samples& take, const std::string& words)
{
    const Reading r = readingOf(take);
    CAPTURE(all(r.notes));
    CHECK_FALSE(r.verdict);
    CHECK_THAT(all(r.notes), Catch::Contains(words));
    CHECK_FALSE(isFit(take));
}

void fit(const Samples& take)
{
    const Reading r = readingOf(take);
    CAPTURE(all(r.notes));
    CHECK(r.verdict == Verdict::agrees);
    REQUIRE(r.tone.level_dBFS);
    CHECK(*r.tone.level_dBFS == Approx(-20.0).margin(0.005));
    CHECK(isFit(take));
}

} // namespace

TEST_CASE("a contact that takes 1 dB away for more than half of the take leaves no verdict and no reference")
{
    const auto loose = [](double x, double t) { return std::fmod(t, 2.5) < 1.5 ? x * ratioOf(-1.0) : x; };
    unfit(toneWith(12.0, loose), "the tone stood +1.00 dB from the level that was used for");
    // In one piece long enough for a reference.
    unfit(toneWith(14.0, [](double x, double t) { return t < 8.0 ? x * ratioOf(-1.0) : x; }),
          "the take holds another level, +1.00 dB from the one that was used, for 43 % of the tone");
}

TEST_CASE("a take that holds two levels, whichever comes first, leaves no verdict and no reference")
{
    const auto words = "the take holds another level, \u221222.00 dB from the one that was used";
    unfit(toneWith(14.0, [](double x, double t) { return t < 8.0 ? x : x * ratioOf(-22.0); }), words);
    unfit(toneWith(14.0, [](double x, double t) { return t < 6.0 ? x * ratioOf(-22.0) : x; }), words);
}

TEST_CASE("zeros in every block are told with their share, and nothing is judged by what is left")
{
    int i = 0;
    const auto take = toneWith(10.0, [&](double x, double) { return x * (i++ % 512 < 66 ? 0.0 : 1.0); });
    auto zeros = take;
    for (std::size_t n = 0; n < zeros.size(); ++n)
        zeros[n] = n % 512 < 66 ? 0.0f : zeros[n];
    unfit(zeros, "drop-outs took 12.");
}

TEST_CASE("a second tone 0.06 Hz beside, in takes of 8 to 30 s, leaves no verdict that is wrong")
{
    for (const double seconds : {8.0, 12.0, 20.0, 30.0})
        for (const double phase : {0.0, 1.6, 3.1, 4.7}) {
            const auto take = toneWith(seconds, [phase](double x, double t) {
                return x + 0.245 * toneAmplitude * std::cos(2.0 * pi * 1000.10 * t + 0.3 + phase);
            });
            const Reading r = readingOf(take);
            CAPTURE(seconds, phase, all(r.notes));
            CHECK_FALSE(r.verdict);
            CHECK_FALSE(isFit(take));
        }
}

TEST_CASE("another level is told however far it lies and however short it was beside a long take")
{
    const auto lower = [](double seconds, double from, double to, double dB) {
        return toneWith(seconds, [=](double x, double t) { return t >= from && t < to ? x * ratioOf(dB) : x; });
    };
    unfit(lower(13.0, 4.0, 13.0, -20.0), "another level, +20.00 dB"); // switched, or slipped, for the rest
    fit(lower(30.0, 0.0, 9.0, -20.0));                                // laid beside its seat at first
    unfit(lower(60.0, 0.0, 54.5, -1.0), "another level, +1.00 dB");   // pressed home at last
    fit(lower(30.0, 0.0, 0.4, -1.0));                                 // too short for a level
}

TEST_CASE("a gain that settles during the take leaves no verdict while it still moves")
{
    unfit(toneWith(12.0, [](double x, double t) { return x * ratioOf(2.0 * std::exp(-t / 3.0)); }),
          "the level strays by 1.1");
}

TEST_CASE("peaks that were cut and turned down leave no verdict and no reference")
{
    const auto cut = [](double x, double) { return 0.7 * std::clamp(x, -0.93 * toneAmplitude, 0.93 * toneAmplitude); };
    Samples take = toneWith(8.0, [](double x, double) { return x; });
    for (float& x : take)
        x = static_cast<float>(cut(static_cast<double>(x), 0.0));
    unfit(take, "peaks are cut off at one value");
}

TEST_CASE("a tenth of other sound beside the tone leaves no verdict")
{
    unfit(toneWith(8.0, [](double x, double t) { return x + 0.11 * toneAmplitude * std::sin(2.0 * pi * 3170.0 * t); }),
          "11 % of the sound is not this tone");
}

TEST_CASE("a tone that is a small part of the take's sound leaves no verdict")
{
    const auto take = toneWith(30.0, [](double x, double t) {
        return t < 12.0 ? x : toneAmplitude * std::sin(2.0 * pi * (300.0 * t + 200.0 * std::sin(3.0 * t)));
    });
    const Reading whole = readingOf(take);
    CAPTURE(all(whole.notes));
    CHECK(whole.verdict == Verdict::agrees); // 12 of 30 s
    const Samples less(take.begin() + static_cast<std::ptrdiff_t>(8.0 * takeRate_Hz), take.end());
    unfit(less, "s of sound are this tone at this level, undisturbed");
}

TEST_CASE("a good take reads and is fit, whatever came before, after or once within")
{
    const auto plain = [](double x, double) { return x; };
    fit(toneWith(10.0, plain));
    fit(toneWith(14.0, [](double x, double t) { return t < 3.0 || t > 10.0 ? 0.0 : x; })); // silence around it
    fit(toneWith(16.0, [](double x, double t) {                                            // a knock
        return x + (t < 6.0 ? 0.0 : 0.3 * std::exp((6.0 - t) / 0.03) * std::sin(2.0 * pi * 80.0 * t));
    }));
    fit(toneWith(16.0, [](double x, double t) { // pressed on after 3 s, heard through the air before
        const double since = t - 3.0, rise = std::clamp(since / 0.4, 0.0, 1.0);
        const double wobble = since > 0.4 ? 0.4 * std::sin(19.0 * since) * std::exp(-since / 0.3) : 0.0;
        return x * ratioOf(-24.0 + 24.0 * rise + wobble);
    }));
    fit(toneWith(14.0, [](double x, double t) { // slid in, taken out
        return x * ratioOf(-15.0 * std::clamp(1.0 - t / 3.0, 0.0, 1.0) - 40.0 * std::clamp((t - 12.0) / 0.5, 0.0, 1.0));
    }));
    SplitMix64 seeds(3);
    Xoshiro256 random(seeds);
    fit(toneWith(18.0, [&](double x, double t) { // ten seconds of handling it
        const double noise = t < 10.0 ? 0.08 * random.nextNormal() * std::exp(-std::fmod(t, 0.4) / 0.03) : 0.0;
        return (t < 10.0 ? 0.0 : x) + noise;
    }));
}

TEST_CASE("a tone that moves is told so, from where to where")
{
    const auto swept = [](double from_Hz, double to_Hz) {
        return toneWith(8.0, [=](double, double t) {
            return toneAmplitude * std::cos(2.0 * pi * (from_Hz * t + (to_Hz - from_Hz) / 8.0 * t * t / 2.0));
        });
    };
    CHECK_THAT(heardIn(swept(200.0, 2000.0)).whyNoLevel, Catch::StartsWith("the tone moves: from 2"));
    unfit(swept(900.0, 1000.0), "the tone moves: from 90");
    unfit(swept(1000.0, 900.0), "the tone moves: from 99");
    unfit(swept(980.0, 1020.0), "the tone moves: from 98");
}

TEST_CASE("floats beyond full scale have negative headroom and are not clipped")
{
    const Reading r = readingOf(toneWith(5.0, [](double x, double) { return 14.0 * x; }));
    CHECK(*r.tone.headroom_dB == Approx(-20.0 * std::log10(1.4)).margin(0.02));
    CHECK(r.tone.clippedSamples == 0);
    CHECK_THAT(all(r.notes), Catch::Contains("2.9 dB beyond full scale"));
    CHECK(*r.tone.level_dBFS == Approx(20.0 * std::log10(1.4)).margin(0.001));
}

TEST_CASE("an earphone's distortion is named from 3 % on")
{
    const auto distorted = [](double third) {
        return toneWith(5.0, [third](double x, double t) {
            return x + third * toneAmplitude * std::cos(3.0 * (2.0 * pi * 1000.04 * t));
        });
    };
    CHECK_THAT(all(readingOf(distorted(0.032)).notes), Catch::Contains("distortion is 3.2 %"));
    CHECK_THAT(all(readingOf(distorted(0.028)).notes), !Catch::Contains("distortion is"));
    CHECK(readingOf(distorted(0.032)).verdict == Verdict::agrees);
}

TEST_CASE("hum is remarked only where it may move the number")
{
    const auto humming = [](double tone_Hz) {
        return toneWith(
            5.0,
            [](double x, double t) {
                double hum = 0.0;
                for (const double order : {1.0, 2.0, 3.0, 4.0, 5.0})
                    hum += std::sin(2.0 * pi * 50.0 * order * t);
                return x + 0.02 * toneAmplitude * hum / 2.2;
            },
            tone_Hz);
    };
    CHECK_THAT(all(readingOf(humming(1000.04)).notes), !Catch::Contains("hum"));
}
