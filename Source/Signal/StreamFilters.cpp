// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/StreamFilters.h"

#include "Signal/Weighting.h"

#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr double lowestZ_Hz = 1.0;
constexpr double lowestNoise_Hz = 20.0, highestNoise_Hz = 20000.0;
constexpr double needsUpperEdge_Hz = 60000.0;

BiquadCoefficients butterworth(double corner_Hz, double sampleRate_Hz, bool high)
{
    const double k = std::tan(pi * corner_Hz / sampleRate_Hz), r = std::sqrt(2.0) * k;
    const double scale = 1.0 / (1.0 + r + k * k);
    BiquadCoefficients c;
    c.b0 = c.b2 = high ? scale : k * k * scale;
    c.b1 = high ? -2.0 * scale : 2.0 * k * k * scale;
    c.a1 = 2.0 * (k * k - 1.0) * scale;
    c.a2 = (1.0 - r + k * k) * scale;
    return c;
}

// x less its exponential average.
BiquadCoefficients withoutDrift(double corner_Hz, double sampleRate_Hz)
{
    const double keep = std::exp(-2.0 * pi * corner_Hz / sampleRate_Hz);
    return {keep, -keep, 0.0, -keep, 0.0};
}

void fill(FourSections& sections, const std::array<BiquadCoefficients, 4>& from)
{
    for (std::size_t lane = 0; lane < from.size(); ++lane) {
        sections.b0[lane] = from[lane].b0;
        sections.b1[lane] = from[lane].b1;
        sections.b2[lane] = from[lane].b2;
        sections.a1[lane] = from[lane].a1;
        sections.a2[lane] = from[lane].a2;
    }
}

// Subnormal numbers cost a hundred times as much and mean nothing: once a chunk, what has died away is made zero.
void settle(FourSections& sections)
{
    for (std::size_t lane = 0; lane < 4; ++lane)
        if (std::abs(sections.s1[lane]) + std::abs(sections.s2[lane]) < 1e-30)
            sections.s1[lane] = sections.s2[lane] = 0.0;
}

} // namespace

StreamFilters::StreamFilters(double sampleRate_Hz) : hasUpperEdge(sampleRate_Hz > needsUpperEdge_Hz)
{
    const WeightingDesign w = designWeighting(sampleRate_Hz);
    const BiquadCoefficients lowerZ = withoutDrift(lowestZ_Hz, sampleRate_Hz);
    const BiquadCoefficients lowerNoise = butterworth(lowestNoise_Hz, sampleRate_Hz, true);
    fill(bank.first, {w.lowPair, w.lowPair, lowerZ, lowerNoise});
    fill(bank.second, {w.highPair, w.highPair, w.middlePair, w.middlePair});
    if (hasUpperEdge)
        fill(upperEdge, {butterworth(highestNoise_Hz, sampleRate_Hz, false)});
}

void StreamFilters::reset()
{
    for (FourSections* sections : {&bank.first, &bank.second, &upperEdge})
        sections->s1 = sections->s2 = {};
    bank.last = {};
}

// Each high-pass filter gives nothing for a constant that has always been there: its states then are -b0 and b2 times it.
void StreamFilters::expectConstant(double constant)
{
    FourSections& f = bank.first;
    for (std::size_t lane = 0; lane < 4; ++lane) {
        f.s1[lane] = -f.b0[lane] * constant;
        f.s2[lane] = f.b2[lane] * constant;
    }
}

// From rest, the one of first order still gives keep^n of the constant after n samples.
void StreamFilters::forgetStep(double constant, double samplesAgo)
{
    constexpr std::size_t lowerZ = 2;
    const double keep = -bank.first.a1[lowerZ];
    bank.first.s1[lowerZ] -= keep * constant * std::pow(keep, samplesAgo);
}

WeightedChunk StreamFilters::operator()(const float* stream, const std::array<double, chunkLength>& left)
{
    FilteredChunk f;
    run->filter(bank, stream, left.data(), f);
    double squaresOfNoise = f.squares[0][3];
    if (hasUpperEdge) {
        FourSections& u = upperEdge;
        squaresOfNoise = 0.0;
        for (const double x : f.edged) {
            const double y = u.b0[0] * x + u.s1[0];
            u.s1[0] = u.b1[0] * x - u.a1[0] * y + u.s2[0];
            u.s2[0] = u.b2[0] * x - u.a2[0] * y;
            squaresOfNoise += y * y;
        }
    }
    for (FourSections* sections : {&bank.first, &bank.second, &upperEdge})
        settle(*sections);

    WeightedChunk w;
    w.squaresA = f.squares[1][2];
    w.squaresC = f.squares[1][0];
    w.squaresZ = f.squares[0][2];
    w.peakA = f.peaks[1][2];
    w.peakZ = f.peaks[0][2];
    w.c = f.weightedC;
    w.squaresOfNoise = squaresOfNoise;
    w.squaresOfNoiseA = f.squares[1][3];
    return w;
}

} // namespace couplet
