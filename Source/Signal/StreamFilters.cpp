// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/StreamFilters.h"

#include "Signal/Weighting.h"

#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr double lowestZ_Hz = 1.0;
constexpr double lowestNoise_Hz = 20.0, highestNoise_Hz = 20000.0;

// Section `which` of a low-pass or high-pass whose corner is k = tan(pi f / rate), with the damping 2 cos(theta).
BiquadCoefficients section(double k, double damping, bool high)
{
    const double r = damping * k;
    const double scale = 1.0 / (1.0 + r + k * k);
    BiquadCoefficients c;
    c.b0 = c.b2 = high ? scale : k * k * scale;
    c.b1 = high ? -2.0 * scale : 2.0 * k * k * scale;
    c.a1 = 2.0 * (k * k - 1.0) * scale;
    c.a2 = (1.0 - r + k * k) * scale;
    return c;
}

// Of the damping of a Butterworth filter's section at this angle.
BiquadCoefficients highPass(double corner_Hz, double sampleRate_Hz, double angle)
{
    return section(std::tan(pi * corner_Hz / sampleRate_Hz), 2.0 * std::cos(angle), true);
}

// The share of white noise that a Butterworth low-pass of fourth order lets through, behind the bilinear transform.
double shareOfNoise(double k)
{
    constexpr int points = 256; // midpoints: what is summed is smooth and periodic
    double sum = 0.0;
    for (int i = 0; i < points; ++i) {
        const double t = std::tan(0.5 * pi * (i + 0.5) / points) / k, t4 = t * t * t * t;
        sum += 1.0 / (1.0 + t4 * t4);
    }
    return sum / points;
}

// The corner, as k above, that lets as much white noise through as lies below 20 kHz.
double upperCorner(double sampleRate_Hz)
{
    const double wanted = highestNoise_Hz / (0.5 * sampleRate_Hz);
    double low = 0.0, high = 1e3;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (shareOfNoise(middle) < wanted ? low : high) = middle;
    }
    return 0.5 * (low + high);
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

StreamFilters::StreamFilters(double sampleRate_Hz)
{
    const WeightingDesign w = designWeighting(sampleRate_Hz);
    const BiquadCoefficients lowerZ = withoutDrift(lowestZ_Hz, sampleRate_Hz);
    const auto lowerNoise = [&](double angle) { return highPass(lowestNoise_Hz, sampleRate_Hz, angle); };
    fill(bank.first, {w.lowPair, w.lowPair, lowerZ, lowerNoise(5.0 * pi / 12.0)});
    fill(bank.second, {w.highPair, w.highPair, w.middlePair, w.middlePair});
    BiquadCoefficients upper[2] = {{1.0, 0.0, 0.0, 0.0, 0.0}, {1.0, 0.0, 0.0, 0.0, 0.0}};
    if (0.5 * sampleRate_Hz > highestNoise_Hz) {
        const double k = upperCorner(sampleRate_Hz);
        upper[0] = section(k, 2.0 * std::cos(pi / 8.0), false);
        upper[1] = section(k, 2.0 * std::cos(3.0 * pi / 8.0), false);
    }
    fill(bank.edges, {upper[0], upper[1], lowerNoise(pi / 4.0), lowerNoise(pi / 12.0)});
}

void StreamFilters::reset()
{
    for (FourSections* sections : {&bank.edges, &bank.first, &bank.second})
        sections->s1 = sections->s2 = {};
    bank.last = bank.lastOfEdges = {};
}

// Each high-pass filter gives nothing for a constant that has always been there: its states then are -b0 and b2 times it.
// A low-pass filter gives it back.
void StreamFilters::expectConstant(double constant)
{
    const auto stand = [](FourSections& f, std::size_t lane, double in, double out) {
        f.s1[lane] = out - f.b0[lane] * in;
        f.s2[lane] = f.b2[lane] * in - f.a2[lane] * out;
    };
    for (const std::size_t upper : {0U, 1U})
        stand(bank.edges, upper, constant, constant);
    stand(bank.edges, 2, constant, 0.0);
    bank.lastOfEdges = {constant, constant, 0.0, 0.0};
    for (const std::size_t ofStream : {0U, 2U})
        stand(bank.first, ofStream, constant, 0.0);
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
    for (FourSections* sections : {&bank.edges, &bank.first, &bank.second})
        settle(*sections);

    WeightedChunk w;
    w.squaresA = f.squares[1][2];
    w.squaresC = f.squares[1][0];
    w.squaresZ = f.squares[0][2];
    w.peakA = f.peaks[1][2];
    w.peakZ = f.peaks[0][2];
    w.c = f.weightedC;
    w.squaresOfNoise = f.squares[0][3];
    w.squaresOfNoiseA = f.squares[1][3];
    w.squaresForKnocks = f.squaresOfEdges[2];
    return w;
}

} // namespace couplet
