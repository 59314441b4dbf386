// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/CramerRao.h"
#include "Signal/Stream.h"

#include <cstdint>
#include <vector>

// Purpose: how far the estimates of the following tracker scatter, beside the joint Cramer-Rao bound of their windows.
// Shapes:  windows that follow one another and do not overlap.
// Units:   dB, Hz, s.
// Thread:  any.
namespace couplet::test {

struct Scatter
{
    double level_dB = 0.0, frequency_Hz = 0.0; // standard deviations
    double levelBias_dB = 0.0, bias_Hz = 0.0;  // means
    int windows = 0, shortened = 0;            // shortened: begun anew within the window, and left out
    Bound bound;

    double levelRatio() const { return level_dB / bound.level_dB; }
    double frequencyRatio() const { return frequency_Hz / bound.frequency_Hz; }
    double mostBias_dB() const; // that is allowed: 0.0005 dB or three standard errors
};

Scatter scatterOf(const Truth&, double window_s, int windows, std::uint64_t seed);

// A tone of half full scale in white noise, and what is heard of it at a time.
struct Cell
{
    double window_s = 1.0, tone_Hz = 1000.04, snr_dB = 40.0, sampleRate_Hz = 48000.0;

    Truth truth() const;
};

// Windows of 0.1, 1 and 10 s; 20 Hz to 15 kHz; 10 to 80 dB; first all of them at 48 kHz, then others at other rates.
std::vector<Cell> wholeGrid();

Scatter scatterOf(const Cell&, int windows);

} // namespace couplet::test
