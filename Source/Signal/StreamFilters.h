// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Kernels.h"

#include <array>

// Purpose: a chunk of the stream and what the known lines leave of it, weighted: A, C, and without weighting within
//          the band each is measured in.
// Source:  IEC 61672-1:2013 (weightings). Z reaches down to 1 Hz. Noise: Butterworth of sixth order at 20 Hz, and of
//          fourth order at the corner behind which white noise has the power that lies below 20 kHz; at 40 kHz sampling and
//          less the rate itself is the upper edge; A-weighted likewise. Knocks are heard with a lower edge of second order:
//          they reach lower, and are over sooner.
// Units:   squares summed over the chunk, relative to full scale = 1.
// Thread:  audio after construction.
namespace couplet {

struct WeightedChunk
{
    double squaresA = 0.0, squaresC = 0.0, squaresZ = 0.0; // of the stream
    double peakA = 0.0, peakZ = 0.0;                       // largest magnitudes
    std::array<float, chunkLength> c;                      // C-weighted samples
    double squaresOfNoise = 0.0, squaresOfNoiseA = 0.0;    // of what is left of it
    double squaresForKnocks = 0.0;                         // likewise, and a share of what lies below 20 Hz
};

class StreamFilters
{
public:
    explicit StreamFilters(double sampleRate_Hz);

    // The chunk, and what is left of it. A-weighted sums lag by one sample, those of noise by three more.
    WeightedChunk operator()(const float* stream, const std::array<double, chunkLength>& left);
    void reset();
    // After a reset: as if the stream had stood at this constant for ever before it begins.
    void expectConstant(double constant);
    // So many samples after a reset: likewise, as far as it matters by then. What a constant does that is suddenly there
    // is taken out of the slowest filter; the others have forgotten it in 0.25 s.
    void forgetStep(double constant, double samplesAgo);

private:
    const Kernels* run = &kernels();
    FilterBank bank;
};

} // namespace couplet
