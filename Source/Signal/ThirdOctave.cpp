// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ThirdOctave.h"

#include "Signal/Sizes.h"

#include <cmath>
#include <complex>

namespace couplet {
namespace {

constexpr std::array<double, 10> nominalDecade{2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0, 10.0, 12.5, 16.0};
constexpr int lowestIndex = -17; // of 20 Hz, counted from 1 kHz

// width s / (s^2 + c s + d) through s = (1 - 1/z) / (1 + 1/z).
BiquadCoefficients section(double width, double c, double d)
{
    const double a0 = 1.0 + c + d;
    return {width / a0, 0.0, -width / a0, 2.0 * (d - 1.0) / a0, (1.0 - c + d) / a0};
}

} // namespace

ThirdOctave thirdOctave(std::size_t index)
{
    const int n = lowestIndex + static_cast<int>(index);
    const int decade = static_cast<int>(index / nominalDecade.size()) + 1;
    return {nominalDecade[index % nominalDecade.size()] * std::pow(10.0, decade), std::pow(10.0, 3.0 + n / 10.0),
            std::pow(10.0, 3.0 + (2 * n - 1) / 20.0), std::pow(10.0, 3.0 + (2 * n + 1) / 20.0)};
}

// Each prototype pole p becomes the two roots of s^2 - p B s + w0^2.
std::array<BiquadCoefficients, 3> thirdOctaveFilter(const ThirdOctave& band, double sampleRate_Hz)
{
    using Complex = std::complex<double>;
    const double lower = std::tan(pi * band.lower_Hz / sampleRate_Hz);
    const double upper = std::tan(pi * band.upper_Hz / sampleRate_Hz);
    const double width = upper - lower, square = lower * upper;
    const Complex pole = width * Complex(-0.5, std::sqrt(0.75));
    const Complex root = std::sqrt(pole * pole - 4.0 * square);
    const Complex first = 0.5 * (pole + root), second = 0.5 * (pole - root);
    return {section(width, width, square), section(width, -2.0 * first.real(), std::norm(first)),
            section(width, -2.0 * second.real(), std::norm(second))};
}

} // namespace couplet
