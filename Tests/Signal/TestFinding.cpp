// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/Decibels.h"
#include "Speed/TargetCheck.h"
#include "Tracked.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>

using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double soon_s = 0.2;

double uniform(Xoshiro256& random, double from, double to)
{
    return from + (to - from) * static_cast<double>(random.next() >> 11) * 0x1p-53;
}
double logUniform(Xoshiro256& random, double from, double to)
{
    return from * std::pow(to / from, uniform(random, 0.0, 1.0));
}

// Right means within 0.02 dB or five standard deviations of a hop, and a frequency to match.
bool isRight(const ToneEstimate& e, const Truth& truth)
{
    const double n = hopLength(truth.sampleRate_Hz);
    const double relative = truth.noise / truth.amplitude;
    const double level_dB = dBPerRelative * relative * std::sqrt(2.0 / n);
    const double frequency_Hz = relative * std::sqrt(24.0 / (n * n * n)) * truth.sampleRate_Hz / (2.0 * pi);
    const bool low = truth.tone_Hz < 60.0; // few cycles: the bound of a tone alone says too little
    return e.held() &&
           std::abs(decibels(e.amplitude / truth.amplitude)) < std::max(0.02, (low ? 10.0 : 5.0) * level_dB) &&
           std::abs(e.frequency_Hz - truth.tone_Hz) < std::max(0.02, (low ? 15.0 : 5.0) * frequency_Hz);
}

struct Jumps
{
    int tried = 0, late = 0;
};

// `change` makes the next truth of the last. Each tone stays for 2 to 3.5 s, so that windows are full or nearly so.
template <class Change> Jumps jumps(int wanted, double windowMost_s, std::uint64_t seed, Change&& change)
{
    Jumps result;
    SplitMix64 seeds(seed);
    Xoshiro256 random(seeds);
    while (result.tried < wanted) {
        Truth truth;
        truth.sampleRate_Hz = std::array{44100.0, 48000.0, 96000.0}[random.next() % 3];
        truth.tone_Hz = logUniform(random, 60.0, 20000.0);
        truth.amplitude = logUniform(random, 0.1, 1.0);
        const double snr_dB = uniform(random, 20.0, 60.0);
        truth.withSnr_dB(snr_dB);
        Stream stream(truth, random.next());
        ToneTracker tracker(truth.sampleRate_Hz, 1.0);
        tracked(tracker, stream, 1.0, truth.sampleRate_Hz);
        for (int i = 0; i < 8 && result.tried < wanted; ++i, ++result.tried) {
            change(truth, random, snr_dB);
            stream.set(truth);
            const auto hops = tracked(tracker, stream, uniform(random, 0.6, windowMost_s), truth.sampleRate_Hz);
            // The hop in which it jumps counts into the time, so four hops at most.
            bool right = false;
            for (std::size_t h = 0; (static_cast<double>(h) + 1.0) * 0.05 <= soon_s + 0.001; ++h)
                right = right || isRight(hops[h], truth);
            result.late += right ? 0 : 1;
        }
    }
    return result;
}

Jumps jumpsAnywhere(int wanted)
{
    return jumps(wanted, 1.2, 1, [](Truth& truth, Xoshiro256& random, double snr_dB) {
        truth.tone_Hz = logUniform(random, 60.0, std::min(20000.0, 0.45 * truth.sampleRate_Hz));
        truth.amplitude = logUniform(random, 0.1, 1.0);
        truth.withSnr_dB(snr_dB);
    });
}

Jumps smallSteps(int wanted)
{
    return jumps(wanted, 1.2, 2, [](Truth& truth, Xoshiro256& random, double) {
        const double by = logUniform(random, 0.3, 30.0);
        const bool up = random.next() % 2 == 0 || truth.tone_Hz - by < 65.0;
        truth.tone_Hz += up && truth.tone_Hz + by < 20000.0 ? by : -by;
    });
}

Jumps jumpsToLow(int wanted)
{
    return jumps(wanted, 1.2, 3, [](Truth& truth, Xoshiro256& random, double snr_dB) {
        truth.tone_Hz = logUniform(random, 20.0, 60.0);
        for (const double mains : {50.0, 60.0}) // the mains itself is not a tone
            if (std::abs(truth.tone_Hz - mains) < 2.0)
                truth.tone_Hz = mains - 3.0;
        truth.withSnr_dB(snr_dB);
    });
}

double latePercent(const Jumps& j)
{
    return 100.0 * j.late / j.tried;
}

constexpr int few = 200, many = 5000;

struct Claims
{
    int hops = 0, claimed = 0;
};

Claims claimsInNoise(bool pink, double rate_Hz, double duration_s, std::uint64_t seed)
{
    Claims claims;
    PinkNoise noise(seed);
    Truth truth;
    truth.amplitude = 0.0;
    truth.noise = 0.1;
    Stream white(truth, seed);
    ToneTracker tracker(rate_Hz, 1.0);
    for (int i = 0; i < duration_s * rate_Hz / chunkLength; ++i) {
        std::array<float, chunkLength> chunk;
        for (float& x : chunk)
            x = pink ? noise.next(0.05) : white.next();
        if (tracker.add(chunk.data(), folded(chunk.data()))) {
            ++claims.hops;
            claims.claimed += tracker.estimate().held() ? 1 : 0;
        }
    }
    return claims;
}

// The most of any rate and kind of noise.
double mostClaimed_percent(double duration_s, std::uint64_t seeds)
{
    double most = 0.0;
    for (const bool pink : {false, true})
        for (const double rate_Hz : {44100.0, 48000.0, 96000.0}) {
            Claims all;
            for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
                const Claims claims = claimsInNoise(pink, rate_Hz, duration_s, seed);
                all.hops += claims.hops;
                all.claimed += claims.claimed;
            }
            CAPTURE(pink, rate_Hz, all.claimed, all.hops);
            CHECK(all.hops > 0);
            most = targets::larger(most, 100.0 * all.claimed / all.hops);
        }
    return most;
}

} // namespace

TEST_CASE("a tone that jumps anywhere is found again within 0.2 s in 98 % of jumps")
{
    CHECK(latePercent(jumpsAnywhere(few)) <= targets::jumps.limit);
}

TEST_CASE("of thousands of jumps anywhere 98 % are found again within 0.2 s", "[.long][target]")
{
    targets::hold(targets::jumps, latePercent(jumpsAnywhere(many)));
}

TEST_CASE("a tone that steps by less than 30 Hz is found again within 0.2 s in 95 % of steps")
{
    CHECK(latePercent(smallSteps(few)) <= targets::steps.limit);
}

TEST_CASE("of thousands of steps below 30 Hz 95 % are found again within 0.2 s", "[.long][target]")
{
    targets::hold(targets::steps, latePercent(smallSteps(many)));
}

TEST_CASE("a tone that jumps to below 60 Hz is found again within 0.2 s in 98 % of jumps")
{
    CHECK(latePercent(jumpsToLow(few / 2)) <= targets::lowJumps.limit);
}

TEST_CASE("of thousands of jumps to below 60 Hz 98 % are found again within 0.2 s", "[.long][target]")
{
    targets::hold(targets::lowJumps, latePercent(jumpsToLow(many)));
}

TEST_CASE("a tone is found in white noise from 3 dB up")
{
    int found = 0;
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        Truth truth;
        truth.tone_Hz = 100.0 * std::pow(150.0, static_cast<double>(seed) / 50.0);
        truth.withSnr_dB(3.0);
        Stream stream(truth, seed);
        ToneTracker tracker(truth.sampleRate_Hz, 1.0);
        const auto hops = tracked(tracker, stream, 0.5, truth.sampleRate_Hz);
        found += isRight(hops.back(), truth) ? 1 : 0;
    }
    CHECK(found >= 49);
}

TEST_CASE("two tones of one strength are told as such, and neither as the tone")
{
    for (const double other_Hz : {310.0, 700.0, 2100.0}) {
        Truth truth;
        truth.withSnr_dB(60.0);
        Truth second = truth;
        second.tone_Hz = truth.tone_Hz + other_Hz;
        Stream one(truth, 1), two(second, 2);
        ToneTracker tracker(truth.sampleRate_Hz, 1.0);
        ToneEstimate last;
        for (int i = 0; i < 3000; ++i) {
            auto chunk = one.chunk();
            const auto more = two.chunk();
            std::transform(chunk.begin(), chunk.end(), more.begin(), chunk.begin(), std::plus<>());
            if (tracker.add(chunk.data(), folded(chunk.data())))
                last = tracker.estimate();
        }
        CAPTURE(other_Hz);
        CHECK(last.reason == NoTone::notAlone);
    }
}

TEST_CASE("a tone that stops is no longer claimed after 0.2 s")
{
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        Truth truth;
        truth.withSnr_dB(40.0);
        Stream stream(truth, seed);
        ToneTracker tracker(truth.sampleRate_Hz, 1.0);
        tracked(tracker, stream, 0.3 + 0.05 * static_cast<double>(seed), truth.sampleRate_Hz);
        truth.amplitude = 0.0;
        stream.set(truth);
        CHECK_FALSE(tracked(tracker, stream, 0.2, truth.sampleRate_Hz).back().held());
    }
}

TEST_CASE("no tone is claimed in white or pink noise in more than 1 % of hops")
{
    CHECK(mostClaimed_percent(10.0, 2) <= targets::claimed.limit);
}

TEST_CASE("in twenty minutes of each noise no tone is claimed in more than 1 % of hops", "[.long][target]")
{
    targets::hold(targets::claimed, mostClaimed_percent(60.0, 20));
}
