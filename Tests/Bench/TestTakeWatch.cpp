// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveCalibrator.h"
#include "Bench/Reading.h"
#include "Bench/StretchFinder.h"
#include "Signal/Analyser.h"
#include "Signal/Stream.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>

// Takes that are unfit in one way each, and good ones that look a little like them. The truth is what was put in.
using namespace couplet;
using namespace couplet::tests;

namespace {

constexpr double rate_Hz = 48000.0, amplitude = 0.1;

using Take = std::vector<float>;
using Change = std::function<double(double x, double t)>;

Take tone(double seconds, const Change& change, double tone_Hz = 1000.04)
{
    test::Truth truth;
    truth.tone_Hz = tone_Hz;
    truth.amplitude = amplitude;
    test::Stream stream(truth, 3);
    test::Truth noise;
    noise.amplitude = 0.0;
    noise.noise = 7e-5;
    test::Stream beside(noise, 4);
    Take take(static_cast<std::size_t>(seconds * rate_Hz));
    for (std::size_t i = 0; i < take.size(); ++i)
        take[i] = static_cast<float>(change(static_cast<double>(stream.next()), static_cast<double>(i) / rate_Hz) +
                                     static_cast<double>(beside.next()));
    return take;
}

double gain(double dB)
{
    return std::pow(10.0, dB / 20.0);
}

ToneSummary summaryOf(const Take& take)
{
    Analyser analyser(rate_Hz);
    StretchFinder finder;
    const auto add = [&](const Estimate& e) { finder.add(e); };
    analyser.add(take.data(), nullptr, static_cast<int>(take.size()), add);
    analyser.finish(add);
    return finder.summary();
}

// An earphone that should play just this, U 0.5 dB.
Reading readingOf(const Take& take)
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
    return makeReading(summaryOf(take), setup);
}

bool isFit(const Take& take)
{
    ReferenceSetup setup = setupOnPaper();
    setup.calibrator.calibratorClass = 2;
    const auto outcome = takeReference(summaryOf(take), setup);
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

void unfit(const Take& take, const std::string& words)
{
    const Reading r = readingOf(take);
    CAPTURE(all(r.notes));
    CHECK_FALSE(r.verdict);
    CHECK_THAT(all(r.notes), Catch::Contains(words));
    CHECK_FALSE(isFit(take));
}

void fit(const Take& take)
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
    const auto loose = [](double x, double t) { return std::fmod(t, 2.5) < 1.5 ? x * gain(-1.0) : x; };
    unfit(tone(12.0, loose), "the tone stood +1.00 dB from the level that was used for");
    // In one piece long enough for a reference.
    unfit(tone(14.0, [](double x, double t) { return t < 8.0 ? x * gain(-1.0) : x; }),
          "the take holds another level, +1.00 dB from the one that was used, for 43 % of the tone");
}

TEST_CASE("a take that holds two levels, whichever comes first, leaves no verdict and no reference")
{
    const auto words = "the take holds another level, \u221222.00 dB from the one that was used";
    unfit(tone(14.0, [](double x, double t) { return t < 8.0 ? x : x * gain(-22.0); }), words);
    unfit(tone(14.0, [](double x, double t) { return t < 6.0 ? x * gain(-22.0) : x; }), words);
}

TEST_CASE("zeros in every block are told with their share, and nothing is judged by what is left")
{
    int i = 0;
    const auto take = tone(10.0, [&](double x, double) { return x * (i++ % 512 < 66 ? 0.0 : 1.0); });
    auto zeros = take;
    for (std::size_t n = 0; n < zeros.size(); ++n)
        zeros[n] = n % 512 < 66 ? 0.0f : zeros[n];
    unfit(zeros, "drop-outs took 12.");
}

TEST_CASE("a second tone 0.06 Hz beside, in takes of 8 to 30 s, leaves no verdict that is wrong")
{
    for (const double seconds : {8.0, 12.0, 20.0, 30.0})
        for (const double phase : {0.0, 1.6, 3.1, 4.7}) {
            const auto take = tone(seconds, [phase](double x, double t) {
                return x + 0.245 * amplitude * std::cos(2.0 * pi * 1000.10 * t + 0.3 + phase);
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
        return tone(seconds, [=](double x, double t) { return t >= from && t < to ? x * gain(dB) : x; });
    };
    unfit(lower(13.0, 4.0, 13.0, -20.0), "another level, +20.00 dB"); // switched, or slipped, for the rest
    fit(lower(30.0, 0.0, 9.0, -20.0));                                // laid beside its seat at first
    unfit(lower(60.0, 0.0, 54.5, -1.0), "another level, +1.00 dB");   // pressed home at last
    fit(lower(30.0, 0.0, 0.4, -1.0));                                 // too short for a level
}

TEST_CASE("a gain that settles during the take leaves no verdict while it still moves")
{
    unfit(tone(12.0, [](double x, double t) { return x * gain(2.0 * std::exp(-t / 3.0)); }), "the level strays by 1.1");
}

TEST_CASE("peaks that were cut and turned down leave no verdict and no reference")
{
    const auto cut = [](double x, double) { return 0.7 * std::clamp(x, -0.93 * amplitude, 0.93 * amplitude); };
    Take take = tone(8.0, [](double x, double) { return x; });
    for (float& x : take)
        x = static_cast<float>(cut(static_cast<double>(x), 0.0));
    unfit(take, "peaks are cut off at one value");
}

TEST_CASE("a tenth of other sound beside the tone leaves no verdict")
{
    unfit(tone(8.0, [](double x, double t) { return x + 0.11 * amplitude * std::sin(2.0 * pi * 3170.0 * t); }),
          "11 % of the sound is not this tone");
}

TEST_CASE("a tone that is a small part of the take's sound leaves no verdict")
{
    const auto take = tone(30.0, [](double x, double t) {
        return t < 12.0 ? x : amplitude * std::sin(2.0 * pi * (300.0 * t + 200.0 * std::sin(3.0 * t)));
    });
    const Reading whole = readingOf(take);
    CAPTURE(all(whole.notes));
    CHECK(whole.verdict == Verdict::agrees); // 12 of 30 s
    const Take less(take.begin() + static_cast<std::ptrdiff_t>(8.0 * rate_Hz), take.end());
    unfit(less, "s of sound are this tone at this level, undisturbed");
}

TEST_CASE("a good take reads and is fit, whatever came before, after or once within")
{
    const auto plain = [](double x, double) { return x; };
    fit(tone(10.0, plain));
    fit(tone(14.0, [](double x, double t) { return t < 3.0 || t > 10.0 ? 0.0 : x; })); // silence around it
    fit(tone(16.0, [](double x, double t) {                                            // a knock
        return x + (t < 6.0 ? 0.0 : 0.3 * std::exp((6.0 - t) / 0.03) * std::sin(2.0 * pi * 80.0 * t));
    }));
    fit(tone(16.0, [](double x, double t) { // pressed on after 3 s, heard through the air before
        const double since = t - 3.0, rise = std::clamp(since / 0.4, 0.0, 1.0);
        const double wobble = since > 0.4 ? 0.4 * std::sin(19.0 * since) * std::exp(-since / 0.3) : 0.0;
        return x * gain(-24.0 + 24.0 * rise + wobble);
    }));
    fit(tone(14.0, [](double x, double t) { // slid in, taken out
        return x * gain(-15.0 * std::clamp(1.0 - t / 3.0, 0.0, 1.0) - 40.0 * std::clamp((t - 12.0) / 0.5, 0.0, 1.0));
    }));
    SplitMix64 seeds(3);
    Xoshiro256 random(seeds);
    fit(tone(18.0, [&](double x, double t) { // ten seconds of handling it
        const double noise = t < 10.0 ? 0.08 * random.nextNormal() * std::exp(-std::fmod(t, 0.4) / 0.03) : 0.0;
        return (t < 10.0 ? 0.0 : x) + noise;
    }));
}

TEST_CASE("a tone that moves is told so, from where to where")
{
    const auto swept = [](double from_Hz, double to_Hz) {
        return tone(8.0, [=](double, double t) {
            return amplitude * std::cos(2.0 * pi * (from_Hz * t + (to_Hz - from_Hz) / 8.0 * t * t / 2.0));
        });
    };
    CHECK_THAT(summaryOf(swept(200.0, 2000.0)).whyNoLevel, Catch::StartsWith("the tone moves: from 2"));
    unfit(swept(900.0, 1000.0), "the tone moves: from 90");
    unfit(swept(1000.0, 900.0), "the tone moves: from 99");
    unfit(swept(980.0, 1020.0), "the tone moves: from 98");
}

TEST_CASE("floats beyond full scale have negative headroom and are not clipped")
{
    const Reading r = readingOf(tone(5.0, [](double x, double) { return 14.0 * x; }));
    CHECK(*r.tone.headroom_dB == Approx(-20.0 * std::log10(1.4)).margin(0.02));
    CHECK(r.tone.clippedSamples == 0);
    CHECK_THAT(all(r.notes), Catch::Contains("2.9 dB beyond full scale"));
    CHECK(*r.tone.level_dBFS == Approx(20.0 * std::log10(1.4)).margin(0.001));
}

TEST_CASE("an earphone's distortion is named from 3 % on")
{
    const auto distorted = [](double third) {
        return tone(5.0, [third](double x, double t) {
            return x + third * amplitude * std::cos(3.0 * (2.0 * pi * 1000.04 * t));
        });
    };
    CHECK_THAT(all(readingOf(distorted(0.032)).notes), Catch::Contains("distortion is 3.2 %"));
    CHECK_THAT(all(readingOf(distorted(0.028)).notes), !Catch::Contains("distortion is"));
    CHECK(readingOf(distorted(0.032)).verdict == Verdict::agrees);
}

TEST_CASE("hum is remarked only where it may move the number")
{
    const auto humming = [](double tone_Hz) {
        return tone(
            5.0,
            [](double x, double t) {
                double hum = 0.0;
                for (const double order : {1.0, 2.0, 3.0, 4.0, 5.0})
                    hum += std::sin(2.0 * pi * 50.0 * order * t);
                return x + 0.02 * amplitude * hum / 2.2;
            },
            tone_Hz);
    };
    CHECK_THAT(all(readingOf(humming(1000.04)).notes), !Catch::Contains("hum"));
}
