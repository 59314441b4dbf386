// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/HopSummer.h"

#include "Signal/LinePhasors.h"

#include <cstddef>

namespace couplet {
namespace {

constexpr auto at(int i)
{
    return static_cast<std::size_t>(i);
}

} // namespace

FoldedChunk folded(const float* chunk)
{
    FoldedChunk f;
    for (int i = 0; i < halfChunk; ++i) {
        const double after = chunk[halfChunk + i];
        const double before = chunk[halfChunk - 1 - i];
        f.even[at(i)] = after + before;
        f.odd[at(i)] = after - before;
    }
    return f;
}

std::array<double, chunkLength> unfolded(const FoldedChunk& f)
{
    std::array<double, chunkLength> x;
    for (std::size_t i = 0; i < halfChunk; ++i) {
        x[halfChunk + i] = 0.5 * (f.even[i] + f.odd[i]);
        x[halfChunk - 1 - i] = 0.5 * (f.even[i] - f.odd[i]);
    }
    return x;
}

// Four sums side by side, not one after the other.
double FoldedChunk::total() const
{
    std::array<double, 4> sums{};
    for (std::size_t i = 0; i < halfChunk; ++i)
        sums[i % 4] += even[i];
    return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

double FoldedChunk::power() const
{
    return kernels().power(even.data(), odd.data());
}

HopSummer::HopSummer(int samplesPerHop) : run(&kernels()), firstCentre(0.5 * (chunkLength - samplesPerHop))
{
    tune({});
    begin();
}

void HopSummer::tune(const LineTuning& wanted)
{
    tuned = wanted;
    step = linePhasors(wanted, -chunkLength);
    start = linePhasors(wanted, -firstCentre);
    const LineValues each = linePhasors(wanted, 1.0);
    LineValues p = linePhasors(wanted, 0.5);
    for (std::size_t i = 0; i < halfChunk; ++i) {
        table.cosine[i] = p.re;
        table.sine[i] = p.im;
        for (std::size_t column = 0; column < columns; ++column) {
            const double re = p.re[column] * each.re[column] - p.im[column] * each.im[column];
            p.im[column] = p.re[column] * each.im[column] + p.im[column] * each.re[column];
            p.re[column] = re;
        }
        // The moment's parts change places: h sin goes with the even half, h cos with the odd one.
        const double h = static_cast<double>(i) + 0.5;
        table.cosine[i][momentColumn] = h * table.sine[i][0];
        table.sine[i][momentColumn] = h * table.cosine[i][0];
    }
}

void HopSummer::begin()
{
    current = {};
    current.tuning = tuned;
    turn = start;
    centre = firstCentre;
}

void HopSummer::add(const FoldedChunk& x, double total, double power)
{
    LineValues chunk; // sums of even x cosine and of odd x sine
    run->project(x.even.data(), x.odd.data(), table, chunk);
    // The tone's sums know the samples' own times, the other lines' their chunk's; see MomentCorrection.h.
    current.moment.add(0, turn[0] * Phasor{chunk.im[momentColumn], -chunk.re[momentColumn]});
    run->gather(chunk, centre, step, turn, current);
    current.total += total;
    current.power += power;
    centre += chunkLength;
}

Phasor HopSummer::toneSum(const FoldedChunk& x) const
{
    double c = 0.0, s = 0.0;
    for (std::size_t i = 0; i < halfChunk; ++i) {
        c += x.even[i] * table.cosine[i][0];
        s += x.odd[i] * table.sine[i][0];
    }
    return turn[0] * Phasor{c, -s};
}

} // namespace couplet
