// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Sizes.h"

#include <array>
#include <cstddef>
#include <cstdint>

// Purpose: samples that repeat for longer than the tone can stand still. Within the tone's swing, or far beyond it, they
//          are a drop-out: nothing came from upstream, zeros as a rule, or one sample again and again. At the tone's own
//          extremes, again and again at one value, they are peaks that were cut off and turned down afterwards.
// Ranges:  a tone of amplitude A and w rad a sample, in steps of q, stays within one step for W = 2 acos(1 - q/A)/w
//          samples at most. A drop-out is longer than 4 + 2 W samples, or than 2.75 periods where it lies at an extreme (a
//          square wave stands still for 2.5 periods of its fifth order) or where A is below 16 q, and at most half a second (longer is the tone's
//          end); the tone is heard within a period on either side of it. A cut peak is longer than 2 + 2 W, three samples
//          at least, and stands at the value of the one before. Tones above -80 dBFS; not at full scale, which is
//          clipping. q is the least difference between neighbours that was seen beside such a run.
// Source:  the limits are this product's own; common practice, no source.
// Thread:  audio.
namespace couplet {

class DropOutWatch
{
public:
    explicit DropOutWatch(double rate_Hz) : sampleRate_Hz(rate_Hz) {}

    // With the chunk's least and largest sample.
    void add(const std::array<float, chunkLength>&, float low, float high);
    void breakOff(); // what comes next stands beside nothing
    // At each hop's end: the tone, 0 without one, and the constant under it.
    void hear(double amplitude, double frequency_Hz, double constant);

    std::int64_t count() const { return dropOuts; }      // since the stream began
    std::int64_t samples() const { return lostSamples; } // in all of them
    std::int64_t cutPeaks() const { return cuts; }       // since the stream began
    void reset() { *this = DropOutWatch(sampleRate_Hz); }

private:
    bool mayRepeat(const std::array<float, chunkLength>&) const;
    void learnStep(const std::array<float, chunkLength>&);
    void endRun();
    void countWaiting();
    void notePeak(bool above);

    double sampleRate_Hz;
    float held = 0.0f;         // the newest sample
    std::int64_t run = 0;      // so many times in a row
    std::int64_t position = 0; // samples heard
    double least = 0.0;        // difference between neighbours that was seen beside a run
    double step = 0.0;         // of the quantiser; 0: none to be seen
    double tone_Hz = 0.0;      // 0: no tone worth looking at of late
    double toneAmplitude = 0.0, dc = 0.0;
    int hopsSinceTone = 0;
    std::int64_t loudAt = -1;                     // where the tone's swing was last seen, to a chunk
    std::int64_t waiting = 0, waitingSamples = 0; // runs that count once the tone goes on
    std::int64_t waitingSince = 0;
    double waitsFor = 0.0;
    std::int64_t dropOuts = 0, lostSamples = 0, cuts = 0;
    std::array<float, 2> cutAt{}; // the newest cut peak's value: below, above
};

} // namespace couplet
