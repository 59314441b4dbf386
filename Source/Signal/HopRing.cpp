// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/HopRing.h"

#include "Signal/Kernels.h"
#include "Signal/LinePhasors.h"

namespace couplet {
namespace {

// How far each line moves when its family moves: the order within it.
struct Shifts
{
    alignas(vectorBytes) LineValues::Column of{};
};
Shifts shifts(const LineTuning& from, const LineTuning& to)
{
    Shifts d;
    const double tone = to.tone - from.tone, mains = to.mains - from.mains, other = to.otherMains - from.otherMains;
    for (int line = 0; line < lineCount; ++line)
        d.of[static_cast<std::size_t>(line)] = line < firstMainsLine   ? (line + 1) * tone
                                               : line < firstOtherLine ? (line - firstMainsLine + 1) * mains
                                                                       : (line - firstOtherLine + 1) * other;
    return d;
}

LineValues product(const LineValues& a, const LineValues& b)
{
    LineValues p;
    for (std::size_t i = 0; i < columns; ++i) {
        p.re[i] = a.re[i] * b.re[i] - a.im[i] * b.im[i];
        p.im[i] = a.re[i] * b.im[i] + a.im[i] * b.re[i];
    }
    return p;
}

} // namespace

// Records follow each other at a hop, at ten, or at the five and a half between a single hop and ten.
HopJoiner::HopJoiner(const LineTuning& trial, double samplesPerHop)
{
    joined.tuning = trial;
    joined.momentsExact = true;
    const LineValues half = linePhasors(trial, -0.5 * samplesPerHop);
    oneHop = product(half, half);
    const LineValues two = product(oneHop, oneHop), five = product(product(two, two), oneHop);
    betweenKinds = product(five, half);
    tenHops = product(five, five);
}

void HopJoiner::add(const HopSums& record, int span, double t)
{
    if (lastSpan == 0)
        turn = linePhasors(joined.tuning, -t);
    else
        turn = product(turn, span != lastSpan ? betweenKinds : span == 1 ? oneHop : tenHops);
    lastSpan = span;
    const auto d = shifts(record.tuning, joined.tuning);
    kernels().join(record, d.of.data(), turn, t, joined);
    joined.total += record.total;
    joined.power += record.power;
    joined.momentsExact = joined.momentsExact && record.momentsExact;
}

void HopRing::push(const HopSums& hop)
{
    hops[place(pushed)] = hop;
    ++pushed;
    held = std::min(held + 1, capacity());
    if (pushed % merged != 0)
        return;
    HopJoiner ten(hop.tuning, hopSamples);
    for (int i = 0; i < merged; ++i)
        ten.add(hops[place(pushed - merged + i)], 1, (i - 0.5 * (merged - 1)) * hopSamples);
    tens[placeOfTen(pushed - merged)] = ten.window();
}

HopSums HopRing::joined(int count, const LineTuning& trial) const
{
    HopJoiner window(trial, hopSamples);
    const long first = pushed - count;
    for (long number = first; number < pushed;) {
        const bool ten = number % merged == 0 && number + merged <= pushed;
        const int span = ten ? merged : 1;
        const double t = (static_cast<double>(number - first) + 0.5 * (span - count)) * hopSamples;
        window.add(ten ? tens[placeOfTen(number)] : hops[place(number)], span, t);
        number += span;
    }
    return window.window();
}

} // namespace couplet
