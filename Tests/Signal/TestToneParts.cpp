// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/Decibels.h"
#include "Signal/ToneParts.h"
#include "Simulation/Random.h"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <cstdint>
#include <vector>

using namespace couplet;

namespace {

// A tone whose amplitude and frequency are functions of time, chunk by chunk into the parts; nothing is taken out.
template <class Amplitude, class Frequency>
std::vector<ToneParts::Hop> hopsOf(double rate_Hz, double listened_Hz, Amplitude&& amplitude, Frequency&& frequency,
                                   double noise = 0.0, double jumpAt_s = 1e9)
{
    SplitMix64 seeds(3);
    Xoshiro256 random(seeds);
    ToneParts parts(chunksPerHop(rate_Hz), rate_Hz);
    std::vector<ToneParts::Hop> hops;
    double phase = 0.4;
    bool jumped = false;
    for (std::int64_t n = 0, chunk = 0; hops.size() < 40; ++chunk) {
        if (chunk % chunksPerHop(rate_Hz) == 0)
            parts.begin(2.0 * pi * listened_Hz / rate_Hz);
        std::array<float, chunkLength> x;
        for (float& sample : x) {
            const double t = static_cast<double>(n++) / rate_Hz;
            if (t > jumpAt_s && !jumped) {
                phase += 0.5;
                jumped = true;
            }
            phase += 2.0 * pi * frequency(t) / rate_Hz;
            sample = static_cast<float>(amplitude(t) * std::cos(phase) + noise * random.nextNormal());
        }
        parts.add(folded(x.data()), {}, 0.0);
        if ((chunk + 1) % chunksPerHop(rate_Hz) == 0)
            hops.push_back(parts.end());
    }
    return hops;
}

double meanPower(const std::vector<ToneParts::Hop>& hops)
{
    double sum = 0.0;
    for (const auto& hop : hops)
        sum += hop.power / static_cast<double>(hops.size());
    return sum;
}

} // namespace

TEST_CASE("a tone's power is whole whatever its phase does")
{
    for (const double rate_Hz : {44100.0, 48000.0, 192000.0})
        for (const double tone_Hz : {250.0, 1000.0})
            for (const double wobble_Hz : {0.0, 0.007 * tone_Hz}) {
                const auto hops = hopsOf(
                    rate_Hz, 1.002 * tone_Hz, [](double) { return 0.1; },
                    [&](double t) { return tone_Hz + wobble_Hz * std::sin(2.0 * pi * 5.0 * t); });
                CAPTURE(rate_Hz, tone_Hz, wobble_Hz);
                CHECK(std::abs(decibelsOfPower(meanPower(hops) / 0.01)) < 0.001);
                CHECK(hops.back().known);
                CHECK_FALSE(hops.back().jumped);
            }
}

TEST_CASE("a level that wobbles twenty times a second is told as modulated, with its mean power")
{
    const auto hops = hopsOf(
        48000.0, 1000.0, [](double t) { return 0.1 * (1.0 + 0.1 * std::sin(2.0 * pi * 20.0 * t)); },
        [](double) { return 1000.0; });
    CHECK(std::abs(decibelsOfPower(meanPower(hops) / (0.01 * 1.005))) < 0.001);
    CHECK(hops[20].modulated);
    const auto steady = hopsOf(
        48000.0, 1000.0, [](double) { return 0.1; }, [](double) { return 1000.0; }, 0.1 * std::sqrt(0.5) * 0.03);
    for (const auto& hop : steady)
        CHECK_FALSE(hop.modulated);
}

TEST_CASE("noise is told apart from a wobble, and taken out of the power")
{
    const double noise = 0.1 * std::sqrt(0.5) * 0.1; // 20 dB below the tone
    const auto hops = hopsOf(
        48000.0, 1000.0, [](double) { return 0.1; }, [](double) { return 1000.0; }, noise);
    double heard = 0.0;
    for (const auto& hop : hops)
        heard += hop.noise / static_cast<double>(hops.size());
    CHECK(heard == Approx(4.0 * noise * noise / 160.0).epsilon(0.15)); // of an amplitude's two components, 160 samples
    CHECK(std::abs(decibelsOfPower(meanPower(hops) / 0.01)) < 0.02);
}

TEST_CASE("a phase that jumps is no wobble, and low tones are not looked at in parts")
{
    const auto hops = hopsOf(
        48000.0, 1000.0, [](double) { return 0.1; }, [](double) { return 1000.0; }, 0.0, 1.013);
    int jumps = 0;
    for (const auto& hop : hops)
        jumps += hop.jumped ? 1 : 0;
    CHECK(jumps == 1);
    CHECK(hops[20].jumped);
    const auto low = hopsOf(
        48000.0, 63.0, [](double) { return 0.1; }, [](double) { return 63.0; });
    CHECK_FALSE(low.back().known);
}
