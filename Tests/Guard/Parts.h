// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <vector>

// Purpose: what paths of sound are made of: filters, delays, limits. Each is linear filters' textbook form.
// Units:   frequencies in Hz, samples of full scale 1.
// Thread:  one.
namespace couplet::tests {

inline constexpr double tau = 2.0 * std::numbers::pi;

inline double amplitude(double dB)
{
    return std::pow(10.0, dB / 20.0);
}

// A second-order filter, and its response at an angular frequency.
struct Filter
{
    double b0 = 1.0, b1 = 0.0, b2 = 0.0, a1 = 0.0, a2 = 0.0, s1 = 0.0, s2 = 0.0;

    double operator()(double x)
    {
        const double y = b0 * x + s1;
        s1 = b1 * x - a1 * y + s2;
        s2 = b2 * x - a2 * y;
        return y;
    }
    std::complex<double> at(double w) const
    {
        const auto z = std::polar(1.0, -w);
        return (b0 + (b1 + b2 * z) * z) / (1.0 + (a1 + a2 * z) * z);
    }
    // Rings at f with this width (-3 dB), gain 1 at its peak.
    static Filter resonance(double f, double width, double rate)
    {
        const double r = std::exp(-std::numbers::pi * width / rate), g = 0.5 * (1.0 - r * r);
        return {g, 0.0, -g, -2.0 * r * std::cos(tau * f / rate), r * r};
    }
    // Butterworth, by the bilinear transform.
    static Filter lowPass(double f, double rate)
    {
        const double k = std::tan(0.5 * tau * f / rate), n = 1.0 / (1.0 + std::numbers::sqrt2 * k + k * k);
        return {k * k * n, 2.0 * k * k * n, k * k * n, 2.0 * (k * k - 1.0) * n,
                (1.0 - std::numbers::sqrt2 * k + k * k) * n};
    }
    static Filter highPass(double f, double rate)
    {
        Filter low = lowPass(f, rate);
        const double k = std::tan(0.5 * tau * f / rate), n = 1.0 / (1.0 + std::numbers::sqrt2 * k + k * k);
        low.b0 = low.b2 = n;
        low.b1 = -2.0 * n;
        return low;
    }
};

// Samples of the past, by their number since the beginning.
class Past
{
public:
    explicit Past(std::size_t atLeast)
    {
        std::size_t size = 64;
        while (size < atLeast)
            size *= 2;
        samples.assign(size, 0.0f);
    }
    void push(float x) { samples[static_cast<std::size_t>(count++) & (samples.size() - 1)] = x; }
    float operator[](long n) const
    {
        return n < 0 ? 0.0f : samples[static_cast<std::size_t>(n) & (samples.size() - 1)];
    }
    double between(double n) const // straight line
    {
        const double whole = std::floor(n), part = n - whole;
        const auto i = static_cast<long>(whole);
        return (1.0 - part) * static_cast<double>((*this)[i]) + part * static_cast<double>((*this)[i + 1]);
    }
    long size() const { return count; }

private:
    std::vector<float> samples;
    long count = 0;
};

inline double limited(double x, double limit, bool softly)
{
    return softly ? limit * std::tanh(x / limit) : std::clamp(x, -limit, limit);
}

} // namespace couplet::tests
