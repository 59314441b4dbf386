// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/MomentCorrection.h"

#include "Signal/LinePhasors.h"

#include <array>
#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

// Tone orders below this share of the fundamental leak too little to matter.
constexpr double leastShare = 1e-4;

// What an angle a asks for, as sine and cosine of multiples of it: of a/2, of a chunk's half length and of a hop's.
struct Angles
{
    Phasor half, chunk, hop;
};

Angles sumOf(const Angles& a, const Angles& b)
{
    return {a.half * b.half, a.chunk * b.chunk, a.hop * b.hop};
}
Angles mirrored(const Angles& a)
{
    return {conjugate(a.half), conjugate(a.chunk), conjugate(a.hop)};
}

// D'_32(a); near zero by its series, where the digits of the quotient are lost.
double dirichletSlope(const Angles& a)
{
    constexpr double near = 1e-4, length = chunkLength;
    if (std::abs(a.half.im) < near)
        return -a.half.im * length * (length * length - 1.0) / 6.0;
    const double inverse = 1.0 / a.half.im;
    const double value = a.chunk.im * inverse;
    return 0.5 * (length * a.chunk.re - a.half.re * value) * inverse;
}

// Sum of t e^{jat} over a hop less the same with each chunk's centre for t. With t = centre + u it is the sum over
// chunks of e^{ja centre} times the sum within a chunk of u e^{jau}: -j D_M(32 a) D'_32(a), D the Dirichlet kernel.
Phasor missingMoment(const Angles& a, int chunksInHop)
{
    // Where the tone aliases, sin(16 a) is next to nothing and the sum over chunks is M, but for its sign.
    const double overChunks = std::abs(a.chunk.im) > 1e-7 ? a.hop.im / a.chunk.im : chunksInHop * a.hop.re / a.chunk.re;
    return {0.0, -overChunks * dirichletSlope(a)};
}

} // namespace

void correctMoments(HopSums& sums, const LineSet& lines, int chunksInHop)
{
    if (sums.momentsExact)
        return;
    sums.momentsExact = true;
    std::array<Angles, lineCount> angles;
    const LineValues half = linePhasors(sums.tuning, 0.5), chunk = linePhasors(sums.tuning, 0.5 * chunkLength);
    const LineValues hop = linePhasors(sums.tuning, 0.5 * chunkLength * chunksInHop);
    for (std::size_t line = 0; line < lineCount; ++line)
        angles[line] = {half[line], chunk[line], hop[line]};

    const double least = 0.5 * leastShare * magnitude(lines.line[0]);
    for (std::size_t order = 0; order < toneOrders; ++order) {
        const Phasor c = 0.5 * lines.line[order];
        if (!(magnitude(c) > least))
            continue;
        for (std::size_t line = 1; line < lineCount; ++line) { // the tone's own is exact
            const Angles v = mirrored(angles[line]);
            if (line != order) // its own leakage has no missing part
                sums.moment.add(line, c * missingMoment(sumOf(angles[order], v), chunksInHop));
            sums.moment.add(line, conjugate(c) * missingMoment(sumOf(mirrored(angles[order]), v), chunksInHop));
        }
    }
}

} // namespace couplet
