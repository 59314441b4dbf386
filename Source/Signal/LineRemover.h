// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopSummer.h"

// Purpose: what a set of lines leaves of a stream, chunk by chunk.
// Thread:  audio (no allocation, no locks).
namespace couplet {

class LineRemover
{
public:
    // Lines as they are at a hop's centre; the next chunk's centre lies t samples after it. Lines of zero cost nothing.
    void set(const LineSet&, const LineTuning&, double t);
    // The next chunk, less the lines.
    void operator()(FoldedChunk&);

private:
    struct Line
    {
        Phasor now, step; // at the next chunk's centre, and per chunk
        alignas(vectorBytes) std::array<double, halfChunk> cosine;
        alignas(vectorBytes) std::array<double, halfChunk> sine;
    };
    const Kernels* run = &kernels();
    int count = 0;
    std::array<Line, lineCount> lines;
    double constant = 0.0;
};

} // namespace couplet
