// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Phasor.h"

#include <cmath>

// Purpose: a second-order section, transposed direct form II.
// Thread:  any, audio included (no allocation).
namespace couplet {

struct BiquadCoefficients
{
    double b0 = 1.0, b1 = 0.0, b2 = 0.0, a1 = 0.0, a2 = 0.0; // a0 = 1

    // |H| at an angular frequency in rad/sample.
    double gainAt(double omega) const
    {
        const Phasor z = unitPhasor(-omega), z2 = z * z;
        const Phasor top = Phasor{b0, 0.0} + b1 * z + b2 * z2;
        const Phasor bottom = Phasor{1.0, 0.0} + a1 * z + a2 * z2;
        return magnitude(top) / magnitude(bottom);
    }
    void scale(double gain)
    {
        b0 *= gain;
        b1 *= gain;
        b2 *= gain;
    }
};

struct Biquad
{
    BiquadCoefficients c;
    double s1 = 0.0, s2 = 0.0;

    double operator()(double x)
    {
        const double y = c.b0 * x + s1;
        s1 = c.b1 * x - c.a1 * y + s2;
        s2 = c.b2 * x - c.a2 * y;
        return y;
    }
    void reset() { s1 = s2 = 0.0; }
    // Subnormal numbers cost a hundred times as much and mean nothing: once a chunk, what has died away is made zero.
    void settle()
    {
        if (std::abs(s1) + std::abs(s2) < 1e-30)
            reset();
    }
};

} // namespace couplet
