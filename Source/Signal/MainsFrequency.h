// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Sizes.h"

#include <algorithm>

// Purpose: the mains' frequency, followed hop by hop. It is not fitted together with the tone: a strong tone leaks into
//          the mains' lines, and what a line's sums say of its frequency would say the tone's first.
// Source:  Kalman filter of one state. A grid keeps within some 0.05 Hz of its nominal and wanders by 0.02 Hz a second
//          at most (common practice, no source).
// Units:   rad/sample.
// Thread:  audio (no allocation, no locks).
namespace couplet {

class MainsFrequency
{
public:
    explicit MainsFrequency(double sampleRate_Hz) : hz(2.0 * pi / sampleRate_Hz) {}

    void begin(double nominal_Hz)
    {
        nominal = value = nominal_Hz * hz;
        variance = spread() * spread();
    }
    double omega() const { return value; }

    // The frequency is seen to be off by `deviation`, give or take the root of `deviationVariance`.
    void observe(double deviation, double deviationVariance)
    {
        const double gain = variance / (variance + deviationVariance);
        value = std::clamp(value + gain * deviation, nominal - farthest_Hz * hz, nominal + farthest_Hz * hz);
        variance *= 1.0 - gain;
    }
    // Time passes, a hop of it.
    void wander()
    {
        constexpr double perHop_Hz = 0.001;
        variance = std::min(variance + perHop_Hz * hz * perHop_Hz * hz, spread() * spread());
    }

private:
    static constexpr double farthest_Hz = 0.5;
    double spread() const { return 0.05 * hz; }

    double hz;
    double nominal = 0.0, value = 0.0, variance = 0.0;
};

} // namespace couplet
