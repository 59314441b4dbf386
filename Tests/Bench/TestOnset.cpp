// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveTone.h"
#include "Bench/Reading.h"
#include "Bench/StretchFinder.h"
#include "Signal/Analyser.h"
#include "Simulation/Random.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

// Chains whose gain depends on the level, and what a calibrator's own beginning looks like. Overshoot expected: a
// feed-forward compressor of ratio r above its threshold takes (1 - 1/r) of the excess away, once its attack is over.
using namespace couplet;

namespace {

constexpr double rate_Hz = 48000.0;
using Take = std::vector<float>;

Take tone(double seconds, const std::function<double(double t)>& gain_dB)
{
    SplitMix64 seeds(7);
    Xoshiro256 random(seeds);
    Take take(static_cast<std::size_t>(seconds * rate_Hz));
    for (std::size_t i = 0; i < take.size(); ++i) {
        const double t = static_cast<double>(i) / rate_Hz;
        take[i] = static_cast<float>(0.3 * std::pow(10.0, gain_dB(t) / 20.0) * std::sin(2.0 * pi * 1000.04 * t) +
                                     1e-4 * random.nextNormal());
    }
    return take;
}

double begun(double t, double at)
{
    return t < at ? -200.0 : 0.0;
}

// Feed-forward, from the envelope's level.
Take compressed(Take take, double threshold_dB, double ratio, double attack_s, double release_s)
{
    double envelope = 1e-6;
    for (float& x : take) {
        const double now = std::abs(static_cast<double>(x)) * pi / 2.0;
        const double time_s = now > envelope ? attack_s : release_s;
        envelope += (now - envelope) * (1.0 - std::exp(-1.0 / (time_s * rate_Hz)));
        const double excess_dB = std::max(0.0, 20.0 * std::log10(envelope) - threshold_dB);
        x = static_cast<float>(static_cast<double>(x) * std::pow(10.0, -excess_dB * (1.0 - 1.0 / ratio) / 20.0));
    }
    return take;
}

std::optional<Onset> ofTake(const Take& take)
{
    Analyser analyser(rate_Hz);
    StretchFinder finder;
    analyser.add(take.data(), nullptr, static_cast<int>(take.size()), [&](const Estimate& e) { finder.add(e); });
    return finder.summary().onset;
}

std::optional<Onset> live(const Take& take)
{
    Analyser analyser(rate_Hz);
    LiveTone tone;
    analyser.add(take.data(), nullptr, static_cast<int>(take.size()), [&](const Estimate& e) { tone.add(e); });
    return tone.summary().onset;
}

} // namespace

TEST_CASE("an onset that overshoots and settles is named, in a take and live, with its size")
{
    const Take plain = tone(8.0, [](double t) { return begun(t, 1.02); });
    for (const double ratio : {1.5, 2.0, 4.0, 20.0})
        for (const double attack_s : {0.1, 0.3, 1.0}) {
            const auto onset = ofTake(compressed(plain, -24.0, ratio, attack_s, 2.0));
            CAPTURE(ratio, attack_s);
            REQUIRE(onset);
            const double taken_dB = (20.0 * std::log10(0.3) + 24.0) * (1.0 - 1.0 / ratio);
            CHECK(onset->overshoot_dB > 0.3 * taken_dB);
            // With a slow release the envelope lies up to pi/2 above the rectified mean.
            CHECK(onset->overshoot_dB < taken_dB + 20.0 * std::log10(pi / 2.0) * (1.0 - 1.0 / ratio) + 0.1);
            CHECK(onset->settled_s < 6.0 * attack_s + 0.5);
        }
    const auto heard = live(compressed(plain, -24.0, 4.0, 0.2, 2.0));
    REQUIRE(heard); // longer ago than the three seconds that are summed up
    CHECK_THAT(onsetSentence(*heard), Catch::Contains("the level overshot by"));
}

TEST_CASE("a calibrator that is switched on, pressed on or knocked, and a volume turned down, is no overshoot")
{
    CHECK_FALSE(ofTake(tone(6.0, [](double t) { return begun(t, 1.02); })));
    CHECK_FALSE(live(tone(6.0, [](double t) { return begun(t, 1.02); })));
    CHECK_FALSE(ofTake(tone(6.0, [](double t) { return begun(t, 1.0) - 6.0 * std::exp(-(t - 1.0) / 0.3); }))); // soft
    CHECK_FALSE(ofTake(tone(6.0, [](double t) { // pressed on, with a wobble
        const double since = t - 2.0;
        return -24.0 + 24.0 * std::clamp(since / 0.3, 0.0, 1.0) +
               (since > 0.3 ? 0.9 * std::sin(15.0 * since) * std::exp(-since / 0.3) : 0.0);
    })));
    CHECK_FALSE(ofTake(tone(8.0, [](double t) { return begun(t, 1.02) - (t < 3.0 ? 0.0 : 4.0); }))); // turned down
    Take thump = tone(6.0, [](double t) { return begun(t, 1.02); });
    for (std::size_t i = 0; i < 24000; ++i) {
        const double t = static_cast<double>(i) / rate_Hz;
        thump[48960 + i] += static_cast<float>(0.6 * std::exp(-t / 0.08) * std::sin(2.0 * pi * 25.0 * t));
    }
    CHECK_FALSE(ofTake(thump));
}
