// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Phasor.h"

#include <array>
#include <cstddef>

// Purpose: follows one line's phase from frame to frame, and says in which frame it turned or broke off. A steady tone
//          does neither, nor one that glides slowly.
// Units:   rad a sample; a turn is the second difference of the phase in rad, a break a fall of the amplitude.
// Source:  method of this product, no source.
// Thread:  audio.
namespace couplet {

class LineTurns
{
public:
    void begin(double radPerSample, int frameSamples) noexcept;
    void stop() noexcept { step = 0.0; }
    bool runs() const noexcept { return step > 0.0; }

    void add(const float* samples, int count) noexcept;
    void endFrame() noexcept;

    bool turned() const noexcept { return isTurn; }      // in the frame that has ended
    int steadyFrames() const noexcept { return steady; } // until now, in a row

private:
    double step = 0.0, stepBefore = 0.0, stepEarlier = 0.0; // rad a sample, of this frame and the two before it
    Phasor carrier{1.0, 0.0};
    Phasor sum{0.0, 0.0}, rising{0.0, 0.0}, risingBefore{0.0, 0.0}; // of this frame: all, and under a rising weight
    static constexpr int framesSummed = 6;

    double phase = 0.0, usual = 0.0;            // usual: power of the steady line
    std::array<double, framesSummed> changes{}; // of the phase's advance in a frame, against the frame before it
    double glide = 0.0;                         // what such a change usually is
    double advance = 0.0;
    int frame = 1, frames = 0, steady = 0, at = 0;
    bool isTurn = false;
};

} // namespace couplet
