// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Weighting.h"

#include "Signal/Sizes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <vector>

namespace couplet {
namespace {

// IEC 61672-1:2013 Annex E: f_r = 1000 Hz, f_L = 10^1.5 Hz, f_H = 10^3.9 Hz, f_A = 10^2.45 Hz, D^2 = 1/2.
struct Poles
{
    double f1, f2, f3, f4;
};
Poles poles()
{
    const double fr2 = 1e6, fL2 = 1e3, fH2 = std::pow(10.0, 7.8), fA = std::pow(10.0, 2.45);
    const double d = std::sqrt(0.5);
    const double c = fL2 * fH2;
    const double b = (fr2 + c / fr2 - d * (fL2 + fH2)) / (1.0 - d);
    const double root = std::sqrt(b * b - 4.0 * c);
    const double s5 = std::sqrt(5.0);
    return {std::sqrt((-b - root) / 2.0), (3.0 - s5) / 2.0 * fA, (3.0 + s5) / 2.0 * fA, std::sqrt((-b + root) / 2.0)};
}

double powerC(double f)
{
    const Poles p = poles();
    const double f2 = f * f;
    const double c = p.f4 * p.f4 * f2 / ((f2 + p.f1 * p.f1) * (f2 + p.f4 * p.f4));
    return c * c;
}

double powerOfA(double f)
{
    const Poles p = poles();
    const double f2 = f * f;
    return powerC(f) * f2 * f2 / ((f2 + p.f2 * p.f2) * (f2 + p.f3 * p.f3));
}

// Two one-pole high-passes by the bilinear transform, each exact at its own corner.
BiquadCoefficients highPassPair(double first_Hz, double second_Hz, double sampleRate_Hz)
{
    const double k1 = std::tan(pi * first_Hz / sampleRate_Hz), k2 = std::tan(pi * second_Hz / sampleRate_Hz);
    const double g = 1.0 / ((1.0 + k1) * (1.0 + k2));
    const double p1 = (k1 - 1.0) / (k1 + 1.0), p2 = (k2 - 1.0) / (k2 + 1.0);
    return {g, -2.0 * g, g, p1 + p2, p1 * p2};
}

constexpr std::size_t unknowns = 5;
using Row = std::array<double, unknowns + 1>; // the right side last

// Least squares by Householder reflections: near Nyquist the cosines are nearly alike, and normal equations would lose
// half the digits.
std::array<double, unknowns> leastSquares(std::vector<Row> rows)
{
    for (std::size_t k = 0; k < unknowns; ++k) {
        double norm = 0.0;
        for (std::size_t r = k; r < rows.size(); ++r)
            norm += rows[r][k] * rows[r][k];
        norm = std::copysign(std::sqrt(norm), -rows[k][k]);
        const double head = rows[k][k] - norm;
        const double scale = -1.0 / (norm * head);
        std::vector<double> v(rows.size() - k);
        for (std::size_t r = k; r < rows.size(); ++r)
            v[r - k] = r == k ? head : rows[r][k];
        for (std::size_t c = k; c <= unknowns; ++c) {
            double along = 0.0;
            for (std::size_t r = k; r < rows.size(); ++r)
                along += v[r - k] * rows[r][c];
            for (std::size_t r = k; r < rows.size(); ++r)
                rows[r][c] -= scale * along * v[r - k];
        }
    }
    std::array<double, unknowns> x{};
    for (std::size_t k = unknowns; k-- > 0;) {
        double sum = rows[k][unknowns];
        for (std::size_t c = k + 1; c < unknowns; ++c)
            sum -= rows[k][c] * x[c];
        x[k] = sum / rows[k][k];
    }
    return x;
}

// c0 + c1 cos w + c2 cos 2w = |b0 + b1 z + b2 z^2|^2 on the unit circle, roots kept inside it. With x = cos w the left
// side is a quadratic, and each of its roots a pair z, 1/z.
std::array<double, 3> factored(double c0, double c1, double c2)
{
    using Complex = std::complex<double>;
    const Complex root = std::sqrt(Complex(c1 * c1 - 8.0 * c2 * (c0 - c2)));
    std::array<Complex, 2> z;
    for (std::size_t i = 0; i < 2; ++i) {
        const Complex x = (-c1 + (i == 0 ? root : -root)) / (4.0 * c2);
        const Complex s = std::sqrt(x * x - 1.0);
        z[i] = std::abs(x + s) < 1.0 ? x + s : x - s;
    }
    const double b1 = -(z[0] + z[1]).real(), b2 = (z[0] * z[1]).real();
    const double gain = std::sqrt((c0 + c1 + c2) / ((1.0 + b1 + b2) * (1.0 + b1 + b2)));
    return {gain, gain * b1, gain * b2};
}

// The 12 194 Hz pair: c0 + c1 cos w + c2 cos 2w = T (1 + d1 cos w + d2 cos 2w), T what the low pair leaves to be done,
// fitted with rows weighted to relative error in six rounds.
BiquadCoefficients fittedHighPair(double sampleRate_Hz, const BiquadCoefficients& lowPair)
{
    const double highest = std::min(20000.0, 0.5 * highestShareOfNyquist * sampleRate_Hz);
    constexpr int points = 800;
    std::array<double, unknowns> s{};
    for (int round = 0; round < 6; ++round) {
        std::vector<Row> rows;
        rows.reserve(points);
        for (int i = 0; i < points; ++i) {
            const double f = 100.0 + (highest - 100.0) * i / (points - 1);
            const double w = 2.0 * pi * f / sampleRate_Hz;
            const double low = lowPair.gainAt(w);
            const double t = powerC(f) / (low * low);
            const double c1 = std::cos(w), c2 = std::cos(2.0 * w);
            const double weight = 1.0 / (t * std::max(1e-9, std::abs(1.0 + s[3] * c1 + s[4] * c2)));
            rows.push_back({weight, weight * c1, weight * c2, -weight * t * c1, -weight * t * c2, weight * t});
        }
        s = leastSquares(std::move(rows));
    }
    const auto b = factored(s[0], s[1], s[2]), a = factored(1.0, s[3], s[4]);
    return {b[0] / a[0], b[1] / a[0], b[2] / a[0], a[1] / a[0], a[2] / a[0]};
}

} // namespace

WeightingDesign designWeighting(double sampleRate_Hz)
{
    const Poles p = poles();
    const double reference = 2.0 * pi * 1000.0 / sampleRate_Hz;
    WeightingDesign d;
    d.lowPair = highPassPair(p.f1, p.f1, sampleRate_Hz);
    d.highPair = fittedHighPair(sampleRate_Hz, d.lowPair);
    d.middlePair = highPassPair(p.f2, p.f3, sampleRate_Hz);
    d.highPair.scale(1.0 / d.gainC(reference));
    d.middlePair.scale(1.0 / d.middlePair.gainAt(reference));
    return d;
}

double weightingA_dB(double frequency_Hz)
{
    return 10.0 * std::log10(powerOfA(frequency_Hz) / powerOfA(1000.0));
}

double weightingC_dB(double frequency_Hz)
{
    return 10.0 * std::log10(powerC(frequency_Hz) / powerC(1000.0));
}

} // namespace couplet
