// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopSums.h"

#include <array>

// Purpose: samples -> HopSums, a chunk at a time; and back: what a set of lines leaves of a chunk.
// Shapes:  a chunk is 32 samples; folded about its centre it is 16 sums (even) and 16 differences (odd).
// Thread:  audio (no allocation, no locks).
namespace couplet {

// x(centre + h) + x(centre - h) and x(centre + h) - x(centre - h), h = i + 1/2.
struct FoldedChunk
{
    alignas(32) std::array<double, halfChunk> even;
    alignas(32) std::array<double, halfChunk> odd;
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
    const LineTuning& tuning() const { return tables.tuning; }

    void begin(); // of a hop
    void add(const FoldedChunk&);
    const HopSums& sums() const { return current; }

    // The chunk that would be added next, less `lines` (given at this hop's centre). Call before `add`.
    void subtract(const LineSet& lines, FoldedChunk&) const;

    // This chunk's plain sum at the tone, turned to the hop's centre: for a second channel. Call before `add`.
    Phasor toneSum(const FoldedChunk&) const;

private:
    // One column a line, and the tone's first moment as the last; lines lie side by side, eight to a block.
    static constexpr int columns = lineCount + 1;
    static constexpr int momentColumn = lineCount;
    static constexpr int blockWidth = 8;
    static constexpr int blocks = columns / blockWidth;
    static_assert(columns % blockWidth == 0);
    using Table = std::array<std::array<std::array<double, blockWidth>, halfChunk>, blocks>;

    struct Tables
    {
        LineTuning tuning;
        alignas(64) Table cosine;
        alignas(64) Table sine;
        std::array<Phasor, lineCount> chunkStep; // e^{-j w 32}
        std::array<Phasor, lineCount> start;     // e^{-j w t} at the first chunk's centre
    };

    double firstCentre;
    Tables tables;
    HopSums current;
    std::array<Phasor, lineCount> turn; // e^{-j w t} at the next chunk's centre
    double centre = 0.0;                // t of the next chunk's centre
};

} // namespace couplet
