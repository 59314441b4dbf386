// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/HopSummer.h"
#include "Signal/LineRemover.h"
#include "Signal/MomentCorrection.h"
#include "Stream.h"

#include <catch2/catch.hpp>

#include <numeric>

using namespace couplet;
using namespace couplet::test;

namespace {

constexpr double rate_Hz = 48000.0, perHz = 2.0 * pi / rate_Hz;
const int hop = hopLength(rate_Hz), chunks = chunksPerHop(rate_Hz); // 2400 and 75

LineTuning tunedTo(double tone_Hz, double mains_Hz = 50.0)
{
    return {tone_Hz * perHz, mains_Hz * perHz, (mains_Hz == 60.0 ? 50.0 : 60.0) * perHz};
}

std::vector<float> noise(int samples)
{
    Truth truth;
    truth.withSnr_dB(3.0);
    truth.constant = 0.05;
    Stream stream(truth, 5);
    return stream.seconds(samples / rate_Hz);
}

HopSums summed(const std::vector<float>& samples, const LineTuning& tuning)
{
    HopSummer summer(hop);
    summer.tune(tuning);
    summer.begin();
    for (int i = 0; i < hop; i += chunkLength)
        summer.add(folded(&samples[static_cast<std::size_t>(i)]));
    return summer.sums();
}

// sum of t^power x e^{-jwt} about the hop's centre
Phasor direct(const std::vector<float>& samples, double w, int power)
{
    Phasor sum;
    for (int i = 0; i < hop; ++i) {
        const double t = i - 0.5 * (hop - 1);
        sum += std::pow(t, power) * samples[static_cast<std::size_t>(i)] * unitPhasor(-w * t);
    }
    return sum;
}

// The same with each chunk's centre in place of its samples' times, as moments of all lines but the tone are taken.
Phasor directByChunks(const std::vector<float>& samples, double w, int power)
{
    Phasor sum;
    for (int i = 0; i < hop; ++i) {
        const double t = i - 0.5 * (hop - 1);
        const double centre = i / chunkLength * chunkLength + 0.5 * chunkLength - 0.5 * hop;
        sum += std::pow(centre, power) * samples[static_cast<std::size_t>(i)] * unitPhasor(-w * t);
    }
    return sum;
}

double apart(Phasor a, Phasor b)
{
    return magnitude(a - b);
}

// A tone as it comes with this amplitude at the hop's centre.
std::vector<float> toneAtCentre(double w, Phasor amplitude)
{
    std::vector<float> samples(static_cast<std::size_t>(hop));
    for (int i = 0; i < hop; ++i)
        samples[static_cast<std::size_t>(i)] =
            static_cast<float>((amplitude * unitPhasor(w * (i - 0.5 * (hop - 1)))).re);
    return samples;
}

} // namespace

TEST_CASE("a hop's sums are those of its samples at every line")
{
    const auto samples = noise(hop);
    for (const double tone_Hz : {20.0, 997.3, 2500.0, 19000.0}) {
        const LineTuning tuning = tunedTo(tone_Hz);
        const HopSums sums = summed(samples, tuning);
        for (int line = 0; line < lineCount; ++line) {
            CAPTURE(tone_Hz, line);
            const auto i = static_cast<std::size_t>(line);
            CHECK(apart(sums.sum[i], direct(samples, tuning.omega(line), 0)) < 1e-9);
            CHECK(apart(sums.second[i], directByChunks(samples, tuning.omega(line), 2)) < 1e-9 * hop * hop);
            if (line > 0)
                CHECK(apart(sums.moment[i], directByChunks(samples, tuning.omega(line), 1)) < 1e-9 * hop);
        }
        // The tone's own moment is exact, or its frequency would be led astray.
        CHECK(apart(sums.moment[0], direct(samples, tuning.tone, 1)) < 1e-9 * hop);

        CHECK(sums.total == Approx(std::accumulate(samples.begin(), samples.end(), 0.0)));
        CHECK(sums.power == Approx(std::inner_product(samples.begin(), samples.end(), samples.begin(), 0.0)));
    }
}

TEST_CASE("orders at or above 0.98 of the Nyquist frequency are not there")
{
    const LineTuning tuning = tunedTo(9000.0);
    CHECK(tuning.omega(1) == Approx(18000.0 * perHz));
    CHECK(tuning.omega(2) == 0.0);
    CHECK(tuning.omega(firstMainsLine + mainsOrders - 1) == Approx(500.0 * perHz));
}

TEST_CASE("a second channel's tone sum is that of its samples")
{
    const auto samples = noise(hop);
    HopSummer summer(hop);
    summer.tune(tunedTo(500.01));
    summer.begin();
    Phasor sum;
    for (int i = 0; i < hop; i += chunkLength) {
        const FoldedChunk folds = folded(&samples[static_cast<std::size_t>(i)]);
        sum += summer.toneSum(folds);
        summer.add(folds);
    }
    CHECK(apart(sum, direct(samples, 500.01 * perHz, 0)) < 1e-9);
}

TEST_CASE("taking the lines out of a chunk leaves nothing of them")
{
    const LineTuning tuning = tunedTo(731.0, 60.0);
    LineSet lines;
    lines.dc = 0.2;
    lines.line[0] = {0.3, -0.1};
    lines.line[2] = {0.01, 0.02};
    lines.line[firstMainsLine] = {-0.05, 0.1};
    lines.line[firstMainsLine + 4] = {0.003, 0.0};
    std::vector<float> samples(static_cast<std::size_t>(hop));
    for (int i = 0; i < hop; ++i) {
        double x = lines.dc;
        for (int line = 0; line < lineCount; ++line)
            x += (lines.line[static_cast<std::size_t>(line)] * unitPhasor(tuning.omega(line) * (i - 0.5 * (hop - 1))))
                     .re;
        samples[static_cast<std::size_t>(i)] = static_cast<float>(x);
    }
    LineRemover remove;
    remove.set(lines, tuning, 0.5 * (chunkLength - hop));
    double largest = 0.0;
    for (int i = 0; i < hop; i += chunkLength) {
        FoldedChunk folds = folded(&samples[static_cast<std::size_t>(i)]);
        remove(folds);
        for (const double x : unfolded(folds))
            largest = std::max(largest, std::abs(x));
    }
    CHECK(largest < 1e-7); // the samples are floats
}

TEST_CASE("moments of mains and harmonics are exact beside a strong tone wherever it aliases")
{
    // 48 kHz over 32 samples: 1500 Hz and its multiples. 1000 + 500 Hz is one.
    for (const double tone_Hz : {1000.0, 1000.04, 1449.9, 1500.3, 2550.02, 4100.0, 13600.0}) {
        const LineTuning tuning = tunedTo(tone_Hz);
        LineSet lines;
        lines.line[0] = {0.4, 0.3};
        const auto samples = toneAtCentre(tuning.tone, lines.line[0]);
        HopSums sums = summed(samples, tuning);
        const auto worst = [&] {
            double largest = 0.0;
            for (int line = 1; line < lineCount; ++line)
                largest = std::max(largest, apart(sums.moment[static_cast<std::size_t>(line)],
                                                  direct(samples, tuning.omega(line), 1)));
            return largest;
        };
        CAPTURE(tone_Hz);
        CHECK(worst() > 1.0); // what is to be mended
        correctMoments(sums, lines, chunks);
        CHECK(worst() < 1e-4); // of some 300 000 that a line of 0.5 alone would give at its ends
    }
}
