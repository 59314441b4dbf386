// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Units.h"

#include <cmath>
#include <numbers>

// Purpose: a steady sine and its harmonics, by rotation of a unit vector: after the start no mathematics
//          library is called, so that the samples depend on plain arithmetic alone.
// Units:   amplitude 1; frequencies in Hz below half the sample rate.
// Thread:  any, one at a time (no allocation, no locks).
namespace couplet {

class Oscillator
{
public:
    struct Sines
    {
        double first, second, third; // sine of one, two and three times the phase
    };

    Oscillator() = default;
    Oscillator(Hertz frequency, double sampleRate_Hz, double phase_rad = 0.0) noexcept
        : re(std::cos(phase_rad)), im(std::sin(phase_rad))
    {
        const double step_rad = 2.0 * std::numbers::pi * frequency.value / sampleRate_Hz;
        stepRe = std::cos(step_rad);
        stepIm = std::sin(step_rad);
    }

    Sines next() noexcept
    {
        const double sin2 = 2.0 * re * im;
        const double cos2 = re * re - im * im;
        const Sines out{im, sin2, sin2 * re + cos2 * im};
        rotate();
        return out;
    }

private:
    void rotate() noexcept
    {
        const double r = re * stepRe - im * stepIm;
        const double i = re * stepIm + im * stepRe;
        // First-order pull back to length one: rounding cannot add up over hours.
        const double keep = 1.5 - 0.5 * (r * r + i * i);
        re = r * keep;
        im = i * keep;
    }

    double re = 1.0, im = 0.0;
    double stepRe = 1.0, stepIm = 0.0;
};

} // namespace couplet
