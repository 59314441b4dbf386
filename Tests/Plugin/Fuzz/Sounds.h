// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/Fuzz/Chance.h"

#include <span>

// Purpose: samples as nobody would send them, and as somebody does.
namespace couplet::fuzz {

// One kind of sound, drawn by chance, that goes on from block to block.
class Sound
{
public:
    Sound(Chance&, double rate_Hz);
    // A tone alone, the same on every channel.
    Sound(double tone_Hz, double level_dBFS, double rate_Hz);

    void fill(std::span<float> samples, Chance&);

private:
    enum class Kind {
        silence,
        tone,
        square, // of full scale
        bits,   // anything that 32 bits can be
        nan,
        infinity,
        subnormal,
        huge, // up to the largest float
        noise,
        jumps, // a tone that keeps changing
        hum,
        constant,
        spoilt,  // a tone, now and then a sample that is no number
        dropped, // a tone that stands still or falls silent for a while
        count
    };
    float next(Chance&);
    double sine();

    Kind kind = Kind::tone;
    double rate, frequency, amplitude, phase = 0.0;
    int left = 0; // samples until it jumps, drops or goes on
    bool gone = false;
    float last = 0.0f;
};

} // namespace couplet::fuzz
