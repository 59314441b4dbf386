// SPDX-License-Identifier: GPL-3.0-or-later
#include "Simulation/BenchTake.h"
#include "Simulation/Projection.h"

#include <catch2/catch.hpp>

#include <numeric>

using namespace couplet;
using namespace couplet::test;

namespace {

const Scenario scenario = demoScenario();

double mean(std::span<const float> samples)
{
    return std::accumulate(samples.begin(), samples.end(), 0.0) / static_cast<double>(samples.size());
}

// What is left of the microphone's channel without DC and the three orders of hum, over whole mains periods.
std::vector<float> noiseAlone(std::span<const float> samples)
{
    std::vector<float> rest(samples.begin(), samples.end());
    const double dc = mean(samples);
    for (auto& v : rest)
        v = static_cast<float>(v - dc);
    for (const double order : {1.0, 2.0, 3.0}) {
        const auto amplitude = projection(samples, order * 50.0, rate_Hz);
        const double w = 2.0 * std::numbers::pi * order * 50.0 / rate_Hz;
        for (std::size_t n = 0; n < rest.size(); ++n)
            rest[n] -= static_cast<float>(std::real(amplitude * std::polar(1.0, w * static_cast<double>(n))));
    }
    return rest;
}

// Mean power of a real signal in the bins of a plain 2400-point Fourier sum, 20 Hz apart, over consecutive
// stretches.
constexpr std::size_t points = 2400;
constexpr double binWidth_Hz = rate_Hz / points;

std::vector<double> meanSpectrum(std::span<const float> samples, std::size_t bins)
{
    std::vector<std::complex<double>> turns(points);
    for (std::size_t n = 0; n < points; ++n)
        turns[n] = std::polar(1.0, -2.0 * std::numbers::pi * static_cast<double>(n) / points);
    std::vector<double> power(bins, 0.0);
    const auto stretches = samples.size() / points;
    for (std::size_t stretch = 0; stretch < stretches; ++stretch) {
        for (std::size_t k = 0; k < bins; ++k) {
            double re = 0.0, im = 0.0;
            for (std::size_t n = 0, turn = 0; n < points;
                 ++n, turn = turn + k < points ? turn + k : turn + k - points) {
                const double x = samples[stretch * points + n];
                re += x * turns[turn].real();
                im += x * turns[turn].imag();
            }
            power[k] += 2.0 * (re * re + im * im) / (points * points) / static_cast<double>(stretches);
        }
    }
    return power;
}

} // namespace

TEST_CASE("the microphone's noise is 31.4 dB SPL from 20 Hz to 20 kHz")
{
    const auto take = settledTake(scenario, {}, 4.0);
    const auto power = meanSpectrum(noiseAlone(take.microphone), 1001);
    // Half of the first bin and half of the last lie outside the band.
    const double edges = 0.5 * (power[1] + power.back());
    const double inBand = std::accumulate(power.begin() + 1, power.end(), 0.0) - edges;
    // A full-scale sine has a mean square of 1/2 and reads 0 dBFS.
    CHECK(10.0 * std::log10(2.0 * inBand) + 121.97 == Approx(31.4).margin(0.15));

    const auto density = [&](double from_Hz, double to_Hz) {
        const auto first = power.begin() + static_cast<long>(from_Hz / binWidth_Hz);
        const auto last = power.begin() + static_cast<long>(to_Hz / binWidth_Hz);
        return std::accumulate(first, last, 0.0) / static_cast<double>(last - first);
    };
    const double white = density(2000.0, 20000.0);
    CHECK(density(2000.0, 4000.0) == Approx(white).epsilon(0.25));
    CHECK(density(10000.0, 20000.0) == Approx(white).epsilon(0.1));
    CHECK(density(40.0, 160.0) > 3.0 * white);
}

TEST_CASE("the noise of the band is the same at every sample rate that holds the band")
{
    // At 40 kHz the band is everything but the bit below 20 Hz: the sum of squares of the noise alone tells
    // it.
    const auto low = settledTake(scenario, {}, 4.0, 40000.0);
    double squares = 0.0;
    for (std::size_t n = 1; n < low.microphone.size(); ++n) {
        const double step = static_cast<double>(low.microphone[n]) - low.microphone[n - 1];
        squares += step * step;
    }
    // Steps from sample to sample see the white part only: hum and DC hardly move in 25 us. Of white noise
    // their mean square is twice its power. The band holds 19980 Hz of white and about a tenth more of the
    // low end.
    const double white = squares / static_cast<double>(low.microphone.size() - 1) / 2.0;
    CHECK(10.0 * std::log10(2.0 * white) + 121.97 == Approx(31.4).margin(0.6));
}

TEST_CASE("hum stands 57 dB below a tone of 94 dB, in three orders")
{
    const auto take = settledTake(scenario, {}, 10.0);
    double power = 0.0;
    for (const double order : {1.0, 2.0, 3.0}) {
        const double amplitude = amplitudeAt(take.microphone, order * 50.0, rate_Hz);
        CHECK(20.0 * std::log10(amplitude) + 121.97 > 20.0);
        power += amplitude * amplitude;
    }
    CHECK(10.0 * std::log10(power) + 121.97 == Approx(94.0 - 57.0).margin(0.15)); // noise in the same 0.1 Hz
    CHECK(amplitudeAt(take.microphone, 200.0, rate_Hz) < 0.02 * std::sqrt(power));
}

TEST_CASE("both channels have the small DC stated")
{
    const auto take = settledTake(scenario, {}, 10.0);
    CHECK(mean(take.microphone) == Approx(4e-4).margin(2e-6));
    CHECK(mean(take.drive) == Approx(-1e-4).margin(1e-6));
}
