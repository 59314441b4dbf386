// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/StrongestLine.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace couplet;

namespace {

constexpr std::size_t length = 2048;

std::vector<float> sine(double bin, double amplitude)
{
    std::vector<float> samples(length);
    for (std::size_t n = 0; n < length; ++n)
        samples[n] = static_cast<float>(
            0.25 + amplitude * std::sin(2.0 * std::numbers::pi * bin * static_cast<double>(n) / double(length)));
    return samples;
}

// The line, and in how many calls of so many steps it came.
std::pair<StrongestLine::Line, std::size_t> lineOf(std::vector<float> samples, std::size_t piece)
{
    StrongestLine finder(length);
    finder.begin(samples, 0);
    for (std::size_t calls = 1;; ++calls)
        if (const auto line = finder.work(piece))
            return {*line, calls};
}

} // namespace

TEST_CASE("the strongest line has the sine's place and amplitude, beside a constant and between two bins")
{
    for (const double bin : {30.0, 30.3, 30.5, 700.2}) {
        CAPTURE(bin);
        const auto line = lineOf(sine(bin, 0.1), 100000).first;
        CHECK(std::abs(static_cast<double>(line.bin) - bin) <= 0.51);
        CHECK(line.amplitude == Approx(0.1).epsilon(0.02));
        CHECK(line.share > 0.9);
    }
    CHECK(lineOf(std::vector<float>(length, 0.0f), 64).first.share == 0.0);
}

TEST_CASE("samples at full scale are counted where two or more stand in a row")
{
    const auto clipped = [](double bin, double amplitude) {
        auto samples = sine(bin, amplitude);
        for (float& x : samples)
            x = std::clamp(x - 0.25f, -1.0f, 1.0f);
        return lineOf(samples, 100).first;
    };
    // A sine of twice full scale is above it for 120 degrees of 180.
    for (const double bin : {30.3, 171.3})
        CHECK(clipped(bin, 2.0).full == Approx(2.0 / 3.0).margin(0.02));
    for (const double bin : {400.4, 700.2}) // where a few of them stand alone
        CHECK(clipped(bin, 2.0).full > 0.25);
    CHECK(clipped(30.3, 1.0).full < 0.01);
    CHECK(clipped(512.0, 1.0).full == 0.0); // every other sample just reaches it
    CHECK(clipped(30.3, 0.9).full == 0.0);
}

TEST_CASE("pieces of any size give the same bits, and no piece does more than its share")
{
    const auto whole = lineOf(sine(100.4, 0.9), 1000000).first;
    const std::size_t steps = StrongestLine(length).steps();
    for (const std::size_t piece : {std::size_t{1}, std::size_t{17}, std::size_t{160}, std::size_t{5000}}) {
        const auto [line, calls] = lineOf(sine(100.4, 0.9), piece);
        CAPTURE(piece, calls);
        CHECK(line.bin == whole.bin);
        CHECK(line.amplitude == whole.amplitude);
        CHECK(line.share == whole.share);
        CHECK(line.full == whole.full);
        CHECK(calls >= (steps - 2) / piece);
        CHECK(calls <= steps / piece + 4);
    }
}
