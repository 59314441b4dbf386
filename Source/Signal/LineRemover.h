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

    // The tone at the next chunk's centre, and its frequency; 0 when none is taken out.
    Phasor tone() const { return hasTone ? lines[0].now : Phasor{}; }
    double toneOmega() const { return toneAt; }
    // From the next chunk on it is this one; none is added where none was.
    void setTone(Phasor, double omega);

private:
    struct Line
    {
        void turnAt(double omega);

        Phasor now, step; // at the next chunk's centre, and per chunk
        alignas(vectorBytes) std::array<double, halfChunk> cosine;
        alignas(vectorBytes) std::array<double, halfChunk> sine;
    };
    const Kernels* run = &kernels();
    int count = 0;
    bool hasTone = false; // the first of the lines
    double toneAt = 0.0;
    std::array<Line, lineCount> lines;
    double constant = 0.0;
};

} // namespace couplet
