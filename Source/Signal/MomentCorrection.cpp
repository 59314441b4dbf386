// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/MomentCorrection.h"

#include "Signal/Dirichlet.h"

#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

// Tone orders below this share of the fundamental leak too little to matter.
constexpr double leastShare = 0.01;

// Sum of t e^{jat} over a hop is -j D'(a); what the chunks' centres gave instead is -j 32 D'_M(32 a) D_32(a).
struct MissingMoment
{
    explicit MissingMoment(int chunks)
        : hop(static_cast<double>(chunks) * chunkLength), centres(chunks), chunk(chunkLength)
    {
    }
    Phasor operator()(double a) const
    {
        return {0.0, chunkLength * centresFirst(chunkLength * a) * chunk.at(a).value - hop.at(a).first};
    }
    // D'_M turned back to where its closed form is good: next to a multiple of 2 pi it is nought by nought. An even
    // number of chunks changes the sign with each turn.
    double centresFirst(double angle) const
    {
        const double turns = std::round(angle / (2.0 * pi));
        const bool changes = std::fmod(turns * (centres.samples() - 1.0), 2.0) != 0.0;
        const double first = centres.at(angle - 2.0 * pi * turns).first;
        return changes ? -first : first;
    }
    Dirichlet hop, centres, chunk;
};

} // namespace

void correctMoments(HopSums& sums, const LineSet& lines, int chunksInHop)
{
    const MissingMoment missing(chunksInHop);
    const double least = leastShare * magnitude(lines.line[0]);
    for (int order = 0; order < toneOrders; ++order) {
        const Phasor c = 0.5 * lines.line[static_cast<std::size_t>(order)];
        if (!(magnitude(c) > 0.5 * least))
            continue;
        const double w = sums.tuning.omega(order);
        for (int line = 1; line < lineCount; ++line) { // the tone's own is exact
            const double v = sums.tuning.omega(line);
            sums.moment[static_cast<std::size_t>(line)] += c * missing(w - v) + conjugate(c) * missing(-w - v);
        }
    }
}

} // namespace couplet
