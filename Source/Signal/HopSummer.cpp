// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/HopSummer.h"

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

HopSummer::HopSummer(int samplesPerHop) : firstCentre(0.5 * (chunkLength - samplesPerHop))
{
    tune({});
    begin();
}

void HopSummer::tune(const LineTuning& wanted)
{
    tables.tuning = wanted;
    for (int line = 0; line < lineCount; ++line) {
        const double w = wanted.omega(line);
        tables.chunkStep[at(line)] = unitPhasor(-w * chunkLength);
        tables.start[at(line)] = unitPhasor(-w * firstCentre);
        const Phasor step = unitPhasor(w);
        Phasor p = unitPhasor(0.5 * w);
        for (int i = 0; i < halfChunk; ++i, p = p * step) {
            tables.cosine[at(line / blockWidth)][at(i)][at(line % blockWidth)] = p.re;
            tables.sine[at(line / blockWidth)][at(i)][at(line % blockWidth)] = p.im;
        }
    }
    // The moment's parts change places: h sin goes with the even half, h cos with the odd one.
    constexpr int block = momentColumn / blockWidth, lane = momentColumn % blockWidth;
    for (int i = 0; i < halfChunk; ++i) {
        const double h = i + 0.5;
        tables.cosine[block][at(i)][lane] = h * tables.sine[0][at(i)][0];
        tables.sine[block][at(i)][lane] = h * tables.cosine[0][at(i)][0];
    }
}

void HopSummer::begin()
{
    current = {};
    current.tuning = tables.tuning;
    turn = tables.start;
    centre = firstCentre;
}

void HopSummer::add(const FoldedChunk& x)
{
    std::array<double, columns> fromEven; // sum of even x cosine
    std::array<double, columns> fromOdd;  // sum of odd x sine
    for (int block = 0; block < blocks; ++block) {
        std::array<double, blockWidth> c{}, s{};
        const auto& cosines = tables.cosine[at(block)];
        const auto& sines = tables.sine[at(block)];
        for (int i = 0; i < halfChunk; ++i)
            for (int lane = 0; lane < blockWidth; ++lane)
                c[at(lane)] += x.even[at(i)] * cosines[at(i)][at(lane)];
        for (int i = 0; i < halfChunk; ++i)
            for (int lane = 0; lane < blockWidth; ++lane)
                s[at(lane)] += x.odd[at(i)] * sines[at(i)][at(lane)];
        for (int lane = 0; lane < blockWidth; ++lane) {
            fromEven[at(block * blockWidth + lane)] = c[at(lane)];
            fromOdd[at(block * blockWidth + lane)] = s[at(lane)];
        }
    }

    // Sums about the chunk's centre, then turned and shifted to the hop's.
    const Phasor tone = turn[0] * Phasor{fromEven[0], -fromOdd[0]};
    current.moment[0] += turn[0] * Phasor{fromOdd[momentColumn], -fromEven[momentColumn]};
    current.toneSecondMoment += (centre * centre) * tone;
    for (int line = 0; line < lineCount; ++line) {
        const Phasor z = turn[at(line)] * Phasor{fromEven[at(line)], -fromOdd[at(line)]};
        current.sum[at(line)] += z;
        current.moment[at(line)] += centre * z;
        turn[at(line)] = turn[at(line)] * tables.chunkStep[at(line)];
    }

    double total = 0.0, evenPower = 0.0, oddPower = 0.0;
    for (int i = 0; i < halfChunk; ++i) {
        total += x.even[at(i)];
        evenPower += x.even[at(i)] * x.even[at(i)];
        oddPower += x.odd[at(i)] * x.odd[at(i)];
    }
    current.total += total;
    current.power += 0.5 * (evenPower + oddPower);
    centre += chunkLength;
}

void HopSummer::subtract(const LineSet& lines, FoldedChunk& x) const
{
    std::array<double, columns> real{}, imaginary{}; // the moment's column stays zero
    for (int line = 0; line < lineCount; ++line) {
        const Phasor here = lines.line[at(line)] * conjugate(turn[at(line)]);
        real[at(line)] = 2.0 * here.re;
        imaginary[at(line)] = 2.0 * here.im;
    }
    for (int i = 0; i < halfChunk; ++i) {
        std::array<double, blockWidth> even{}, odd{};
        for (int block = 0; block < blocks; ++block)
            for (int lane = 0; lane < blockWidth; ++lane) {
                even[at(lane)] += real[at(block * blockWidth + lane)] * tables.cosine[at(block)][at(i)][at(lane)];
                odd[at(lane)] += imaginary[at(block * blockWidth + lane)] * tables.sine[at(block)][at(i)][at(lane)];
            }
        double evenSum = 2.0 * lines.dc, oddSum = 0.0;
        for (int lane = 0; lane < blockWidth; ++lane) {
            evenSum += even[at(lane)];
            oddSum += odd[at(lane)];
        }
        x.even[at(i)] -= evenSum;
        x.odd[at(i)] += oddSum;
    }
}

Phasor HopSummer::toneSum(const FoldedChunk& x) const
{
    double c = 0.0, s = 0.0;
    for (int i = 0; i < halfChunk; ++i) {
        c += x.even[at(i)] * tables.cosine[0][at(i)][0];
        s += x.odd[at(i)] * tables.sine[0][at(i)][0];
    }
    return turn[0] * Phasor{c, -s};
}

} // namespace couplet
