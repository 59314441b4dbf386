// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Sizes.h"

#include <array>
#include <cstdint>

// Purpose: stretches within a tone in which nothing came from upstream: the same sample again and again, zero as a rule.
// Ranges:  longer than 2.75 of the tone's periods (a square wave stands still for 2.5 periods of its fifth order) and 16
//          samples, at most half a second (longer is the tone's end); tones above -80 dBFS, which 16 bits do not round
//          to one value; not at full scale, which is clipping.
// Source:  the limits are this product's own; common practice, no source.
// Thread:  audio.
namespace couplet {

class DropOutWatch
{
public:
    explicit DropOutWatch(double rate_Hz) : sampleRate_Hz(rate_Hz) {}

    void add(const std::array<float, chunkLength>&);
    void breakOff() { run = 0; } // what comes next stands beside nothing
    // At each hop's end: the tone, 0 without one.
    void hear(double amplitude, double frequency_Hz);

    std::int64_t count() const { return dropOuts; }      // since the stream began
    std::int64_t samples() const { return lostSamples; } // in all of them
    void reset() { *this = DropOutWatch(sampleRate_Hz); }

private:
    void endRun();

    double sampleRate_Hz;
    float held = 0.0f;    // the newest sample
    std::int64_t run = 0; // so many times in a row
    double tone_Hz = 0.0; // 0: no tone worth looking at of late
    int hopsSinceTone = 0;
    std::int64_t dropOuts = 0, lostSamples = 0;
};

} // namespace couplet
