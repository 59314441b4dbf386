// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Simulation/Random.h"

#include <array>

// Purpose: the noise of a microphone and its preamplifier: white above 640 Hz, rising by 3 dB an octave below
//          it down to 20 Hz.
// Units:   full scale; `rms` is that of 20 Hz to 20 kHz (to half the sample rate where that is lower).
// Source:  common practice, no source: three pairs of a pole and a zero an octave above it, two octaves
//          apart.
// Thread:  any, one at a time (no allocation, no locks).
namespace couplet {

class MicrophoneNoise
{
public:
    // rms >= 0; sample rate within 8 to 384 kHz.
    MicrophoneNoise(double rms, double sampleRate_Hz, SplitMix64& seeds) noexcept;

    double next() noexcept;

private:
    // y = x + b1 x[n-1] - a1 y[n-1]
    struct Section
    {
        double b1 = 0.0, a1 = 0.0;
        double x1 = 0.0, y1 = 0.0;
    };

    double powerAt(double omega) const noexcept;
    double powerInBand(double sampleRate_Hz) const noexcept;

    Xoshiro256 random;
    std::array<Section, 3> sections;
    double gain = 0.0;
};

} // namespace couplet
