// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/StreamFilters.h"
#include "Tracked.h"

#include "Quantities/Decibels.h"

#include <catch2/catch.hpp>

#include <cmath>

// The band of the noise. Expected: white noise has 20 kHz / (rate / 2) of its power below 20 kHz; a Butterworth filter of
// order n has 3.01 dB at its corner and falls by 6 n dB an octave. The corners, by which a filter of fourth order behind
// the bilinear transform lets through that share, are scipy's (signal.butter, optimize.brentq).
using namespace couplet;
using namespace couplet::test;

namespace {

struct Band
{
    double rate_Hz, corner_Hz;
};
constexpr Band bands[] = {
    {44100.0, 20049.10}, {48000.0, 20083.12}, {88200.0, 19950.82}, {96000.0, 19906.89}, {192000.0, 19631.45}};

double gain_dB(double rate_Hz, double f_Hz)
{
    StreamFilters filters(rate_Hz);
    const std::array<float, chunkLength> nothing{};
    double sum = 0.0;
    int counted = 0, i = 0;
    for (int chunk = 0; chunk < 12000; ++chunk) {
        std::array<double, chunkLength> left;
        for (double& x : left)
            x = std::sin(2.0 * pi * f_Hz / rate_Hz * ++i);
        const double squares = filters(nothing.data(), left).squaresOfNoise;
        if (chunk >= 4000) {
            sum += squares;
            counted += chunkLength;
        }
    }
    return decibelsOfPower(2.0 * sum / counted);
}

} // namespace

TEST_CASE("white noise reads the power that it has from 20 Hz to 20 kHz at every rate")
{
    for (const Band& band : bands) {
        Truth truth;
        truth.sampleRate_Hz = band.rate_Hz;
        truth.amplitude = 0.0;
        truth.noise = 0.01;
        Stream stream(truth, 8);
        Analyser analyser(band.rate_Hz);
        const auto hops = analysed(analyser, stream.seconds(10.0));
        double mean = 0.0;
        for (std::size_t h = 20; h < 190; ++h)
            mean += hops[h].noisePower / 170.0;
        CAPTURE(band.rate_Hz);
        // 0.03 dB: three standard deviations of 8.5 s of it, and what lines in it took out.
        CHECK(decibelsOfPower(mean / 1e-4) == Approx(decibelsOfPower(20000.0 / (0.5 * band.rate_Hz))).margin(0.03));
    }
}

TEST_CASE("the noise's band ends at 20 Hz and 20 kHz as Butterworth filters do")
{
    for (const Band& band : bands) {
        CAPTURE(band.rate_Hz);
        CHECK(gain_dB(band.rate_Hz, 20.0) == Approx(-3.01).margin(0.02));
        CHECK(gain_dB(band.rate_Hz, 10.0) == Approx(-36.1).margin(0.1));
        CHECK(gain_dB(band.rate_Hz, 1000.0) == Approx(0.0).margin(0.01));
        CHECK(gain_dB(band.rate_Hz, band.corner_Hz) == Approx(-3.01).margin(0.02));
    }
    // An octave above the corner: 24 dB, and what the transform adds.
    CHECK(gain_dB(192000.0, 39262.9) < -24.0);
}
