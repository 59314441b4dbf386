// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/SpectrumReading.h"

#include <array>
#include <optional>

// Purpose: the spectrum of a bench that does not exist, worked out as a transform would see it: noise that rises towards
//          low frequencies, mains hum, a tone with its orders, each spread by the window; and the third octaves of the same.
// Units:   dB SPL (before the shift), Hz, percent of the tone.
namespace couplet {

struct InventedBench
{
    bool referenced = true, responseTakenOut = true;
    double shift_dB = 0.0; // of all levels
    std::optional<double> tone_dB = 93.97;
    double tone_Hz = 500.01;
    // Orders 2 to 6 add up to the sketch's 0.08 %; those above are lost in the noise.
    std::array<double, 5> orders_percent{0.070, 0.036, 0.012, 0.006, 0.0031};
    double hum_dB = 36.9; // of 50 Hz, its odd orders falling
    double noise_dB = 31.4;
    double tableFrom_Hz = 0.0, tableTo_Hz = 1e9; // where the microphone's response is known
    double sampleRate_Hz = 48000.0;
};

SpectrumReading inventedSpectrum(const InventedBench&);

} // namespace couplet
