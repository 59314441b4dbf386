// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Kernels.h"
#include "Simulation/AllocationCount.h"
#include "Tracked.h"

#include <catch2/catch.hpp>

#include <bit>
#include <limits>

using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rate_Hz = 48000.0;

Truth busy()
{
    Truth truth;
    truth.hum = 0.003;
    truth.second = 0.02;
    truth.constant = 0.01;
    return truth.withSnr_dB(45.0);
}

// A tone, another tone, nothing at all, hum of the other family, a knock: everything that sets the tracker in motion.
std::vector<float> eventful()
{
    Truth truth = busy();
    Stream stream(truth, 4);
    std::vector<float> samples = stream.seconds(0.8);
    const auto append = [&](double seconds) {
        stream.set(truth);
        const auto more = stream.seconds(seconds);
        samples.insert(samples.end(), more.begin(), more.end());
    };
    truth.tone_Hz = 1003.0;
    append(0.4);
    truth.tone_Hz = 250.0;
    truth.hum_Hz = 60.0;
    append(1.3);
    truth.amplitude = 0.0;
    append(0.5);
    truth.amplitude = 0.3;
    append(0.6);
    samples[samples.size() - 20000] = 1.0f;
    samples[samples.size() - 9000] = std::numeric_limits<float>::quiet_NaN();
    return samples;
}

std::vector<Estimate> analysedInBlocks(const std::vector<float>& samples, const std::vector<int>& sizes)
{
    Analyser analyser(rate_Hz, 1.0);
    std::vector<float> second(samples);
    for (float& x : second)
        x *= 0.5f;
    std::vector<Estimate> hops;
    std::size_t at = 0;
    for (std::size_t turn = 0; at < samples.size(); ++turn) {
        const int size = std::min(sizes[turn % sizes.size()], static_cast<int>(samples.size() - at));
        analyser.add(&samples[at], &second[at], size, [&](const Estimate& e) { hops.push_back(e); });
        at += static_cast<std::size_t>(size);
    }
    analyser.finish([&](const Estimate& e) { hops.push_back(e); });
    return hops;
}

bool sameBits(double a, double b)
{
    return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

bool sameBits(const Estimate& a, const Estimate& b)
{
    const ToneEstimate &s = a.tone, &t = b.tone;
    bool same = s.reason == t.reason && s.restarted == t.restarted && a.hop == b.hop && a.disturbed == b.disturbed &&
                a.clippedSamples == b.clippedSamples && a.brokenSamples == b.brokenSamples && a.broken == b.broken;
    for (const auto& [x, y] :
         {std::pair(s.amplitude, t.amplitude), std::pair(s.frequency_Hz, t.frequency_Hz),
          std::pair(s.sigmaAmplitude, t.sigmaAmplitude), std::pair(s.sigmaFrequency_Hz, t.sigmaFrequency_Hz),
          std::pair(s.window_s, t.window_s), std::pair(s.hopAmplitude, t.hopAmplitude), std::pair(s.dc, t.dc),
          std::pair(s.noisePower, t.noisePower), std::pair(s.mainsFrequency_Hz, t.mainsFrequency_Hz),
          std::pair(s.mainsAmplitude, t.mainsAmplitude), std::pair(s.mainsBound, t.mainsBound),
          std::pair(a.secondTone.re, b.secondTone.re), std::pair(a.secondTone.im, b.secondTone.im),
          std::pair(a.noisePower, b.noisePower), std::pair(a.noisePowerA, b.noisePowerA), std::pair(a.peak, b.peak),
          std::pair(a.hopPeak, b.hopPeak), std::pair(a.duration_s, b.duration_s)})
        same = same && sameBits(x, y);
    for (std::size_t k = 0; k < s.harmonics.size(); ++k)
        same = same && sameBits(s.harmonics[k], t.harmonics[k]);
    for (std::size_t w = 0; w < weightings; ++w) {
        const BroadbandLevels &l = a.levels[w], &m = b.levels[w];
        same = same && sameBits(l.fast, m.fast) && sameBits(l.slow, m.slow) && sameBits(l.energy, m.energy) &&
               sameBits(l.fastMax, m.fastMax) && sameBits(l.slowMax, m.slowMax) && l.fastMin == m.fastMin &&
               l.slowMin == m.slowMin && sameBits(l.peak, m.peak);
    }
    return same;
}

} // namespace

TEST_CASE("estimates are the same bits however the stream is cut")
{
    const auto samples = eventful();
    const auto whole = analysedInBlocks(samples, {8192});
    REQUIRE(whole.size() == 72);
    for (const auto& sizes : std::vector<std::vector<int>>{{1}, {17}, {512}, {1, 8192, 31, 33, 480}}) {
        const auto cut = analysedInBlocks(samples, sizes);
        REQUIRE(cut.size() == whole.size());
        for (std::size_t h = 0; h < whole.size(); ++h) {
            CAPTURE(h, sizes.front());
            CHECK(sameBits(cut[h], whole[h]));
        }
    }
}

TEST_CASE("an analyser that is restarted says what a new one says")
{
    const auto samples = eventful();
    Analyser used(rate_Hz, 1.0), fresh(rate_Hz, 1.0);
    analysed(used, samples);
    used.restart();
    const auto again = analysed(used, samples), first = analysed(fresh, samples);
    REQUIRE(again.size() == first.size());
    for (std::size_t h = 0; h < first.size(); ++h) {
        CAPTURE(h);
        CHECK(sameBits(again[h], first[h]));
    }
}

TEST_CASE("nothing is allocated while samples are analysed")
{
    const auto samples = eventful();
    for (const double sampleRate_Hz : {44100.0, 192000.0}) {
        Analyser analyser(sampleRate_Hz, 10.0);
        const long before = test::allocationCount();
        analyser.add(samples.data(), samples.data(), static_cast<int>(samples.size()), [](const Estimate&) {});
        analyser.restart();
        CHECK(test::allocationCount() == before);
    }
}

TEST_CASE("processors with wide registers and those without give the same bits")
{
    const Kernels &one = kernels(), &other = plainKernels();
    SplitMix64 seeds(8);
    Xoshiro256 random(seeds);
    const auto fill = [&](auto& values) {
        for (auto& value : values)
            value = static_cast<std::decay_t<decltype(value)>>(random.nextNormal());
    };
    ChunkTable table;
    for (auto* rows : {&table.cosine, &table.sine})
        for (auto& row : *rows)
            fill(row);
    struct
    {
        alignas(vectorBytes) std::array<double, halfChunk> even, odd;
    } left, right;
    fill(left.even);
    fill(left.odd);
    right = left;
    LineValues step, turnLeft, a, b;
    for (auto* values : {&step, &turnLeft, &a, &b}) {
        fill(values->re);
        fill(values->im);
    }
    LineValues turnRight = turnLeft;
    one.project(left.even.data(), left.odd.data(), table, a);
    other.project(left.even.data(), left.odd.data(), table, b);
    CHECK(a.re == b.re);
    CHECK(a.im == b.im);

    HopSums hopLeft, hopRight;
    for (int i = 0; i < 3; ++i) {
        one.gather(a, 17.5, step, turnLeft, hopLeft);
        other.gather(a, 17.5, step, turnRight, hopRight);
    }
    HopSums windowLeft, windowRight;
    one.join(hopLeft, step.re.data(), turnLeft, 31.0, windowLeft);
    other.join(hopRight, step.re.data(), turnRight, 31.0, windowRight);
    for (const auto values : {&HopSums::sum, &HopSums::moment, &HopSums::second}) {
        CHECK((hopLeft.*values).re == (hopRight.*values).re);
        CHECK((hopLeft.*values).im == (hopRight.*values).im);
        CHECK((windowLeft.*values).re == (windowRight.*values).re);
        CHECK((windowLeft.*values).im == (windowRight.*values).im);
    }

    CHECK(one.power(left.even.data(), left.odd.data()) == other.power(left.even.data(), left.odd.data()));
    one.subtract(0.3, -0.7, table.cosine[0].data(), table.sine[0].data(), left.even.data(), left.odd.data());
    other.subtract(0.3, -0.7, table.cosine[0].data(), table.sine[0].data(), right.even.data(), right.odd.data());
    CHECK(left.even == right.even);
    CHECK(left.odd == right.odd);

    FilterBank bankLeft;
    for (FourSections* sections : {&bankLeft.edges, &bankLeft.first, &bankLeft.second})
        for (auto* values : {&sections->b0, &sections->b1, &sections->b2, &sections->a1, &sections->a2})
            for (double& value : *values)
                value = 0.2 * random.nextNormal();
    FilterBank bankRight = bankLeft;
    std::array<float, chunkLength> samples;
    std::array<double, chunkLength> rest;
    fill(samples);
    fill(rest);
    FilteredChunk filteredLeft, filteredRight;
    one.filter(bankLeft, samples.data(), rest.data(), filteredLeft);
    other.filter(bankRight, samples.data(), rest.data(), filteredRight);
    for (int half = 0; half < 2; ++half) {
        CHECK(filteredLeft.squares[half] == filteredRight.squares[half]);
        CHECK(filteredLeft.peaks[half] == filteredRight.peaks[half]);
    }
    CHECK(filteredLeft.squaresOfEdges == filteredRight.squaresOfEdges);
    CHECK(filteredLeft.weightedC == filteredRight.weightedC);
    CHECK(bankLeft.second.s1 == bankRight.second.s1);

    std::array<float, interpolationTaps> taps;
    std::array<float, interpolationTaps + chunkLength> history;
    fill(taps);
    fill(history);
    CHECK(one.interpolate(taps.data(), history.data(), 0.1f) == other.interpolate(taps.data(), history.data(), 0.1f));
}
