// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ToneTracker.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace couplet;

namespace {

struct Hum
{
    double mains_Hz;
    std::vector<int> orders;
    double amplitude; // of each
};

ToneEstimate estimateOf(double tone_Hz, const Hum& hum)
{
    constexpr double rate = 48000.0;
    std::vector<float> x(static_cast<std::size_t>(3.0 * rate));
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double t = 2.0 * pi * static_cast<double>(i) / rate;
        double sum = 0.1 * std::cos(tone_Hz * t + 0.4);
        for (const int order : hum.orders)
            sum += hum.amplitude * std::cos(order * hum.mains_Hz * t + order);
        x[i] = static_cast<float>(sum);
    }
    ToneTracker tracker(rate, 1.0);
    for (std::size_t i = 0; i + chunkLength <= x.size(); i += chunkLength)
        tracker.add(&x[i], folded(&x[i]));
    return tracker.estimate();
}

} // namespace

TEST_CASE("a mains order on the tone is bounded by the next of its own kind")
{
    // Rectifiers make even orders alone, transformers odd ones: the orders beside the tone then say nothing.
    const double share = GENERATE(0.001, 0.01); // of the tone: within 0.02 dB, and beyond
    const auto even = estimateOf(500.0, {50.0, {2, 4, 6, 8, 10}, 0.1 * share});
    const auto odd = estimateOf(300.0, {60.0, {1, 3, 5, 7, 9}, 0.1 * share});
    for (const ToneEstimate& e : {even, odd}) {
        CHECK(e.mainsBound == Approx(0.1 * share).epsilon(0.05));
        CHECK(e.held() == (share < 0.002));
        if (!e.held())
            CHECK(e.reason == NoTone::onMains);
    }
}

TEST_CASE("hum of a rectifier on a tone of twice the mains is bounded by the tone's second harmonic")
{
    // All its orders fall on orders of the tone: it cannot be told from the tone's own distortion, nor be ruled out.
    const auto buzz = estimateOf(100.0, {50.0, {2, 4, 6, 8, 10}, 1e-3});
    CHECK(buzz.held());
    CHECK(buzz.mainsBound == Approx(1e-3).epsilon(0.05));
    const auto other = estimateOf(120.0, {60.0, {2, 4, 6, 8, 10}, 1e-3});
    CHECK(other.held());
    CHECK(other.mainsBound == Approx(1e-3).epsilon(0.05));
    CHECK(estimateOf(100.0, {50.0, {}, 0.0}).mainsBound < 1e-8);
    // What stands on odd orders bounds it as ever, and withholds it.
    CHECK(estimateOf(100.0, {50.0, {1, 3}, 1e-3}).reason == NoTone::onMains);
}

TEST_CASE("beside ordinary hum a step of half a decibel is followed within a quarter of a second")
{
    for (const double tone_Hz : {97.0, 100.01, 130.0, 150.0, 250.02, 500.01, 1000.02})
        for (const double hum : {0.003, 0.03}) { // of the tone
            ToneTracker tracker(48000.0, 1.0);
            std::vector<float> x(static_cast<std::size_t>(6.0 * 48000.0));
            for (std::size_t i = 0; i < x.size(); ++i) {
                const double t = 2.0 * pi * static_cast<double>(i) / 48000.0;
                const double amplitude = i < x.size() / 2 ? 0.1 : 0.106;
                x[i] = static_cast<float>(amplitude * std::cos(tone_Hz * t) + 0.1 * hum * std::cos(50.0 * t + 1.0));
            }
            ToneEstimate soon;
            for (std::size_t i = 0; i + chunkLength <= x.size(); i += chunkLength)
                if (tracker.add(&x[i], folded(&x[i])) && i < x.size() / 2 + 12000)
                    soon = tracker.estimate();
            CAPTURE(tone_Hz, hum, soon.window_s, static_cast<int>(soon.reason));
            if (soon.held())
                CHECK(soon.amplitude == Approx(0.106).epsilon(0.004));
            else
                CHECK(soon.reason == NoTone::onMains);
        }
}

TEST_CASE("a tone that comes after hum alone is found, whatever its frequency")
{
    // A strong tone leaks so evenly into a hop at 50 Hz that the hum, taken for the tone, seems to stay as it was.
    for (const double rate : {22050.0, 44100.0, 48000.0, 88200.0})
        for (const double tone_Hz : {500.01, 997.0, 1000.02, 1300.0, 3150.0}) {
            ToneTracker tracker(rate, 1.0);
            std::vector<float> x(static_cast<std::size_t>(4.0 * rate));
            for (std::size_t i = 0; i < x.size(); ++i) {
                const double t = 2.0 * pi * static_cast<double>(i) / rate;
                const double tone = static_cast<double>(i) > 2.0 * rate ? 0.05 * std::cos(tone_Hz * t) : 0.0;
                x[i] = static_cast<float>(tone + 5e-5 * std::cos(50.0 * t + 1.0) + 2e-5 * std::cos(150.0 * t));
            }
            double found_s = 0.0;
            for (std::size_t i = 0; i + chunkLength <= x.size(); i += chunkLength)
                if (tracker.add(&x[i], folded(&x[i])) && found_s == 0.0 &&
                    std::abs(tracker.estimate().frequency_Hz - tone_Hz) < 0.1)
                    found_s = static_cast<double>(i) / rate - 2.0;
            INFO(rate << " Hz sampling, tone of " << tone_Hz << " Hz, found after " << found_s << " s");
            CHECK(tracker.estimate().held());
            CHECK(tracker.estimate().amplitude == Approx(0.05).epsilon(1e-4));
            CHECK(found_s > 0.0);
            CHECK(found_s < 0.4);
        }
}

TEST_CASE("an order above those that are fitted is bounded by the last of them")
{
    const auto buzz = estimateOf(1000.0, {50.0, {6, 8, 10, 12, 14, 16, 18, 20}, 1e-3});
    CHECK(buzz.reason == NoTone::onMains);
    CHECK(buzz.mainsBound == Approx(1e-3).epsilon(0.05));
    const auto clean = estimateOf(1000.0, {50.0, {1, 2, 3}, 1e-2});
    CHECK(clean.held());
    CHECK(clean.mainsBound < 1e-6);
}
