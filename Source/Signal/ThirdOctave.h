// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Biquad.h"

#include <array>
#include <cstddef>

// Purpose: the third-octave bands from 20 Hz to 20 kHz, and the filter of one.
// Units:   Hz.
// Source:  IEC 61260-1:2014 (base ten: midbands 1000 Hz times 10^(n/10), edges 10^(1/20) to either side); ISO 266
//          (nominal frequencies).
// Thread:  any.
namespace couplet {

inline constexpr std::size_t thirdOctaves = 31;

struct ThirdOctave
{
    double nominal_Hz, midband_Hz, lower_Hz, upper_Hz;
    double width_Hz() const { return upper_Hz - lower_Hz; }
};

// 0: 20 Hz, 30: 20 kHz.
ThirdOctave thirdOctave(std::size_t index);

// A band-pass of sixth order after Butterworth's third-order prototype, -3.01 dB at both edges by the bilinear
// transform. Below a quarter of the sample rate it keeps class 1 of IEC 61260-1.
std::array<BiquadCoefficients, 3> thirdOctaveFilter(const ThirdOctave&, double sampleRate_Hz);

} // namespace couplet
