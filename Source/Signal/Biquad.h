// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Phasor.h"

// Purpose: a second-order section's coefficients.
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

} // namespace couplet
