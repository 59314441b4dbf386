// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopSums.h"
#include "Signal/Kernels.h"

#include <array>

// Purpose: samples -> HopSums, a chunk at a time.
// Shapes:  a chunk is 32 samples; folded about its centre it is 16 sums (even) and 16 differences (odd).
// Thread:  audio (no allocation, no locks).
namespace couplet {

// x(centre + h) + x(centre - h) and x(centre + h) - x(centre - h), h = i + 1/2.
struct FoldedChunk
{
    alignas(vectorBytes) std::array<double, halfChunk> even;
    alignas(vectorBytes) std::array<double, halfChunk> odd;

    double total() const; // sum of x
    double power() const; // sum of x^2
};
FoldedChunk folded(const float* chunk);
std::array<double, chunkLength> unfolded(const FoldedChunk&);

// Lines as amplitudes at a hop's centre: x(t) = dc + sum Re(line e^{jwt}).
struct LineSet
{
    std::array<Phasor, lineCount> line{};
    double dc = 0.0;
};

class HopSummer
{
public:
    explicit HopSummer(int samplesPerHop);

    // Takes effect with the next `begin`.
    void tune(const LineTuning&);
    const LineTuning& tuning() const { return tuned; }

    void begin(); // of a hop
    void add(const FoldedChunk&, double total, double power);
    void add(const FoldedChunk& x) { add(x, x.total(), x.power()); }
    const HopSums& sums() const { return current; }

    // This chunk's plain sum at the tone, turned to the hop's centre: for a second channel. Call before `add`.
    Phasor toneSum(const FoldedChunk&) const;

private:
    const Kernels* run;
    double firstCentre;
    LineTuning tuned;
    ChunkTable table;
    LineValues step;     // e^{-j w 32}
    LineValues start;    // e^{-j w t} at the first chunk's centre
    LineValues turn;     // and at the next one's
    double centre = 0.0; // t of the next chunk's centre
    HopSums current;
};

} // namespace couplet
