// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/Decibels.h"
#include "Speed/TargetCheck.h"
#include "Tracked.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rate_Hz = 48000.0;
constexpr double settled_s = 3.0; // the tone is found in 0.2 s, the mains' family in 2 s, and then 1 s fills

struct Readings
{
    double worst_dB = 0.0; // of those that are held
    int held = 0, withheld = 0;
    NoTone reason = NoTone::none; // of the last that is withheld
    ToneEstimate last;
};

Readings readingsOf(const Truth& truth)
{
    Stream stream(truth, 11);
    ToneTracker tracker(rate_Hz, 1.0);
    tracked(tracker, stream, settled_s, rate_Hz);
    Readings r;
    for (const ToneEstimate& e : tracked(tracker, stream, 1.0, rate_Hz)) {
        r.last = e;
        if (!e.held()) {
            ++r.withheld;
            r.reason = e.reason;
            continue;
        }
        ++r.held;
        r.worst_dB = targets::larger(r.worst_dB, std::abs(decibels(e.amplitude / truth.amplitude)));
    }
    return r;
}

// Scatter at an SNR of 80 dB and 1 s is 4e-6 dB.
Truth quietTone(double tone_Hz)
{
    Truth truth;
    truth.tone_Hz = tone_Hz;
    return truth.withSnr_dB(80.0);
}

// How far it was moved.
double notWithheld_dB(const Truth& truth)
{
    const Readings r = readingsOf(truth);
    CAPTURE(truth.tone_Hz, truth.hum_Hz, truth.hum, truth.second, truth.constant, static_cast<int>(r.reason),
            r.worst_dB);
    CHECK(r.withheld == 0);
    CHECK(r.held > 0);
    return r.worst_dB;
}

// 2/T and more from every mains order that is there.
const std::vector<double> tones_Hz{80.0, 110.0, 130.0, 250.02, 525.0, 1000.04, 5000.0};

// How near an order of the tone comes to one of the first mains orders.
double apart_Hz(const Truth& truth, int k, double orders)
{
    const double order = std::clamp(std::round(k * truth.tone_Hz / truth.hum_Hz), 1.0, orders);
    return std::abs(k * truth.tone_Hz - order * truth.hum_Hz);
}

// Hum of 1 to 0.1 of the tone, anywhere within its reach; tones from 80 Hz to 5 kHz, 2/T and more from each of its orders
// and from the next above. (Where hum falls on the tone's second harmonic another test says what holds.)
double worstBesideHum_dB(int streams)
{
    SplitMix64 seeds(5);
    Xoshiro256 random(seeds);
    const auto uniform = [&](double from, double to) {
        return from + (to - from) * static_cast<double>(random.next() >> 11) * 0x1p-53;
    };
    double worst_dB = 0.0;
    for (int i = 0; i < streams; ++i) {
        Truth truth = quietTone(1000.0);
        truth.hum_Hz = (i % 2 == 0 ? 50.0 : 60.0) + uniform(-0.1, 0.1);
        truth.hum = truth.amplitude * std::pow(10.0, -uniform(0.0, 1.0));
        truth.phase = uniform(0.0, 2.0 * pi);
        do
            truth.tone_Hz = 80.0 * std::pow(5000.0 / 80.0, uniform(0.0, 1.0));
        while (apart_Hz(truth, 1, 4) < 2.0 || apart_Hz(truth, 2, 3) < 2.0);
        worst_dB = targets::larger(worst_dB, notWithheld_dB(truth));
    }
    return worst_dB;
}

} // namespace

TEST_CASE("tone level is not moved by hum as strong as itself", "[target]")
{
    double worst_dB = 0.0;
    for (const double hum_Hz : {49.97, 50.0, 60.02})
        for (const double tone_Hz : tones_Hz) {
            Truth truth = quietTone(tone_Hz);
            truth.hum_Hz = hum_Hz;
            truth.hum = truth.amplitude;
            worst_dB = targets::larger(worst_dB, notWithheld_dB(truth));
        }
    targets::hold(targets::hum, worst_dB);
}

TEST_CASE("any tone 2/T away from each order of strong hum is held, and right")
{
    CHECK(worstBesideHum_dB(100) < targets::besideHum.limit);
}

TEST_CASE("hum that falls on the tone's second harmonic moves it by no more than is told")
{
    for (const double tone_Hz : {89.4, 89.9, 90.3, 90.7})
        for (const double share : {0.2, 1.0}) {
            Truth truth = quietTone(tone_Hz);
            truth.hum_Hz = 60.02;
            truth.hum = share * truth.amplitude;
            const Readings r = readingsOf(truth);
            CAPTURE(tone_Hz, share, r.worst_dB);
            CHECK(r.withheld == 0);
            CHECK(r.worst_dB < decibels(1.0 + r.last.mainsBound / r.last.amplitude) + 1e-4);
            CHECK(r.worst_dB < 0.02);
        }
}

TEST_CASE("thousands of tones 2/T away from each order of strong hum are held, and right", "[.long][target]")
{
    targets::hold(targets::besideHum, worstBesideHum_dB(3000));
}

TEST_CASE("tone level is not moved by 10 % of second and third harmonic", "[target]")
{
    double worst_dB = 0.0;
    for (const double tone_Hz : tones_Hz) {
        Truth truth = quietTone(tone_Hz);
        truth.second = truth.third = 0.1;
        worst_dB = targets::larger(worst_dB, notWithheld_dB(truth));
    }
    targets::hold(targets::harmonics, worst_dB);
}

TEST_CASE("tone level is not moved by a constant of half full scale", "[target]")
{
    double worst_dB = 0.0;
    for (const double tone_Hz : tones_Hz) {
        Truth truth = quietTone(tone_Hz);
        truth.constant = 0.5;
        worst_dB = targets::larger(worst_dB, notWithheld_dB(truth));
    }
    targets::hold(targets::constant, worst_dB);
}

TEST_CASE("tone level is not moved by hum, harmonics and a constant together", "[target]")
{
    double worst_dB = 0.0;
    for (const double tone_Hz : tones_Hz) {
        Truth truth = quietTone(tone_Hz);
        truth.hum_Hz = 49.97;
        truth.hum = truth.amplitude;
        truth.second = truth.third = 0.1;
        truth.constant = 0.5;
        worst_dB = targets::larger(worst_dB, notWithheld_dB(truth));
    }
    targets::hold(targets::together, worst_dB);
}

TEST_CASE("hum, harmonics and constant are told as they are")
{
    Truth truth = quietTone(731.0);
    truth.hum_Hz = 50.02;
    truth.hum = 0.02;
    truth.second = 0.03;
    truth.third = 0.01;
    truth.constant = -0.25;
    const ToneEstimate e = readingsOf(truth).last;
    CHECK(e.mainsFrequency_Hz == Approx(50.02).margin(0.002));
    CHECK(e.mainsAmplitude == Approx(0.02 * std::sqrt(1.0 + 0.09 + 0.25)).epsilon(1e-4));
    CHECK(e.harmonics[1] == Approx(0.03 * truth.amplitude).epsilon(1e-4));
    CHECK(e.harmonics[2] == Approx(0.01 * truth.amplitude).epsilon(1e-4));
    CHECK(e.dc == Approx(-0.25).epsilon(1e-6));
    CHECK(e.noisePower == Approx(truth.noise * truth.noise).epsilon(0.05));
}

// What the fit leaves is what its standard deviations stand on: too little of it would claim too much.
TEST_CASE("the fit never leaves less than the noise there is")
{
    Truth truth;
    truth.tone_Hz = 1000.04; // with its harmonics it leaks into orders 10 of both families by way of the chunks
    truth.amplitude = 0.34;
    truth.second = 0.0035;
    truth.third = 0.002;
    truth.hum = 1e-4;
    truth.withSnr_dB(81.0);
    for (std::uint64_t seed = 1; seed <= 4; ++seed) {
        Stream stream(truth, seed);
        auto samples = stream.seconds(5.0);
        for (int i = 0; i < 24000; ++i) // a knock whose tail is low and long
            samples[static_cast<std::size_t>(96100 + i)] +=
                static_cast<float>(0.02 * std::exp(-i / 2000.0) * std::sin(2.0 * pi * 55.0 / rate_Hz * i));
        Analyser analyser(rate_Hz, 1.0);
        for (const Estimate& e : analysed(analyser, samples)) {
            CAPTURE(seed, e.hop);
            if (e.tone.held())
                CHECK(e.tone.noisePower > 0.7 * truth.noise * truth.noise);
        }
        CHECK(analyser.latest().tone.held());
        CHECK(analyser.latest().tone.noisePower < 1.2 * truth.noise * truth.noise);
    }
}

// Nearer to the mains than a hop can part, or on one of its orders: no level, and why. A level that is given
// nevertheless must be right.
TEST_CASE("a tone that strong hum cannot be parted from is withheld with its reason or right", "[target]")
{
    double worst_dB = 0.0;
    for (const double tone_Hz : {20.0, 31.5, 45.0, 63.0, 75.0}) {
        Truth truth = quietTone(tone_Hz);
        truth.hum_Hz = 49.97;
        truth.hum = truth.amplitude;
        const Readings r = readingsOf(truth);
        CAPTURE(tone_Hz, r.held, r.withheld, static_cast<int>(r.reason));
        worst_dB = targets::larger(worst_dB, r.worst_dB);
        if (r.withheld > 0)
            CHECK((r.reason == NoTone::lowBesideHum || r.reason == NoTone::onMains || r.reason == NoTone::searching));
    }
    targets::hold(targets::beside, worst_dB);
}

TEST_CASE("a tone on a strong order of the mains is withheld as being on the mains")
{
    for (const double tone_Hz : {100.01, 150.3, 99.2}) {
        Truth truth = quietTone(tone_Hz);
        truth.hum_Hz = 50.0;
        truth.hum = truth.amplitude;
        const Readings r = readingsOf(truth);
        CAPTURE(tone_Hz, r.worst_dB);
        CHECK(r.held == 0);
        CHECK(r.reason == NoTone::onMains);
    }
}

TEST_CASE("the mains alone is never a tone")
{
    for (const double hum_Hz : {49.9, 50.0, 50.1, 59.95, 60.05}) {
        Truth truth = quietTone(1000.0);
        truth.noise = 1e-4;
        truth.amplitude = 0.0;
        truth.hum_Hz = hum_Hz;
        truth.hum = 0.05;
        const Readings r = readingsOf(truth);
        CAPTURE(hum_Hz);
        CHECK(r.held == 0);
    }
}

TEST_CASE("500.01 Hz beside 50 Hz hum of -20 dB reads on, with what the tenth order may do to it", "[target]")
{
    Truth truth = quietTone(500.01);
    truth.hum_Hz = 50.0;
    truth.hum = 0.1 * truth.amplitude;
    truth.noise = 1e-5;
    const Readings r = readingsOf(truth);
    CHECK(r.withheld == 0);
    targets::hold(targets::working, r.worst_dB);
    CHECK(r.last.mainsFrequency_Hz == Approx(50.0).margin(0.01));
    // Orders 9 and 11 are not there, so neither is the bound; it is never more than the limit of reading on.
    CHECK(r.last.mainsBound < 0.0023 * r.last.amplitude);
}
