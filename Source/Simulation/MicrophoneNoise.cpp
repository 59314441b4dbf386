// SPDX-License-Identifier: GPL-3.0-or-later
#include "Simulation/MicrophoneNoise.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {

namespace {

constexpr double lowest_Hz = 20.0, highest_Hz = 20000.0;

double squared(double v)
{
    return v * v;
}

// |1 + c exp(-j omega)|^2
double powerOfOnePlus(double c, double omega)
{
    return squared(1.0 + c * std::cos(omega)) + squared(c * std::sin(omega));
}

} // namespace

MicrophoneNoise::MicrophoneNoise(double rms, double sampleRate_Hz, SplitMix64& seeds) noexcept : random(seeds)
{
    double pole_Hz = lowest_Hz;
    for (auto& section : sections) {
        const double perHertz = 2.0 * std::numbers::pi / sampleRate_Hz;
        section.a1 = -std::exp(-perHertz * pole_Hz);
        section.b1 = -std::exp(-perHertz * 2.0 * pole_Hz);
        pole_Hz *= 4.0;
    }
    gain = rms / std::sqrt(powerInBand(sampleRate_Hz));
}

double MicrophoneNoise::next() noexcept
{
    double sample = gain * random.nextNormal();
    for (auto& s : sections) {
        s.y1 = sample + s.b1 * s.x1 - s.a1 * s.y1;
        s.x1 = sample;
        sample = s.y1;
    }
    return sample;
}

double MicrophoneNoise::powerAt(double omega) const noexcept
{
    double power = 1.0;
    for (const auto& s : sections)
        power *= powerOfOnePlus(s.b1, omega) / powerOfOnePlus(s.a1, omega);
    return power;
}

// Share of the output's power that lies in the band, for white input of power 1: the mean of |H|^2 over 0 to
// pi, counted in the band only. Midpoints in log f follow the slope where it is steep.
double MicrophoneNoise::powerInBand(double sampleRate_Hz) const noexcept
{
    const double from = 2.0 * std::numbers::pi * lowest_Hz / sampleRate_Hz;
    const double to = std::min(2.0 * std::numbers::pi * highest_Hz / sampleRate_Hz, std::numbers::pi);
    constexpr int steps = 2000;
    const double logStep = std::log(to / from) / steps;
    double power = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double omega = from * std::exp((i + 0.5) * logStep);
        power += powerAt(omega) * omega * logStep;
    }
    return power / std::numbers::pi;
}

} // namespace couplet
