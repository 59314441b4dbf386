// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopSums.h"

// Purpose: the loops in which nearly all time is spent, compiled for the processors of any PC and again for those with
//          256-bit registers; which of the two runs is found out once. Each lane's operations and their order are the
//          same in both, and none is fused, so the results are the same bits.
// Thread:  any, audio included (no allocation, no locks).
namespace couplet {

// cos(w h) and sin(w h) of each line at h = i + 1/2.
struct ChunkTable
{
    alignas(vectorBytes) std::array<std::array<double, columns>, halfChunk> cosine;
    alignas(vectorBytes) std::array<std::array<double, columns>, halfChunk> sine;
};

inline constexpr int interpolationTaps = 16;

// Four second-order sections (transposed direct form II) side by side.
struct FourSections
{
    using Lanes = std::array<double, 4>;
    alignas(vectorBytes) Lanes b0{}, b1{}, b2{}, a1{}, a2{}, s1{}, s2{};
};

// Two signals through the same weightings: sections `first` are the low pair on both and the band's lower edge on both;
// `second` the high pair on both and, one sample later, the middle pair on both. The second signal goes through `edges`
// before, one section after the other, each a sample later.
struct FilterBank
{
    FourSections edges, first, second;
    alignas(vectorBytes) FourSections::Lanes last{};        // what `second` gave for the sample before
    alignas(vectorBytes) FourSections::Lanes lastOfEdges{}; // what `edges` gave
};
struct FilteredChunk
{
    alignas(vectorBytes) FourSections::Lanes squares[2]; // summed over the chunk, of each section's output
    alignas(vectorBytes) FourSections::Lanes squaresOfEdges;
    alignas(vectorBytes) FourSections::Lanes peaks[2]; // largest magnitudes
    std::array<float, chunkLength> weightedC;          // the first signal behind the high pair
};

struct Kernels
{
    // to.re = sum of even x cosine, to.im = sum of odd x sine, over the half chunk.
    void (*project)(const double* even, const double* odd, const ChunkTable&, LineValues& to);
    // Turns a chunk's sums (e, -o) by `turn`, adds them and their moments about `centre` to `sums`; turn *= step.
    void (*gather)(const LineValues& chunk, double centre, const LineValues& step, LineValues& turn, HopSums& sums);
    // even[i] -= re cosine[i] and odd[i] += im sine[i], for one line.
    void (*subtract)(double re, double im, const double* cosine, const double* sine, double* even, double* odd);
    // Adds a record, retuned by `d` and turned by `turn`, to a window's sums at distance t from its centre.
    void (*join)(const HopSums& record, const double* d, const LineValues& turn, double t, HopSums& window);
    void (*filter)(FilterBank&, const float* stream, const double* left, FilteredChunk& to);
    // Half the sum of even^2 + odd^2 over the half chunk: the sum of the chunk's squares.
    double (*power)(const double* even, const double* odd);
    // Cholesky factor of a symmetric positive definite matrix, in place: upper triangle by rows of `mostUnknowns`, on its
    // diagonal the inverse of the factor's. Nought from column `size` to the next multiple of four; what stands left of
    // the diagonal within its block of four is overwritten. False when the matrix is not positive definite to rounding.
    bool (*factor)(double* rows, std::size_t size);
    // Solves by that factor, in place; y is nought from `size` to the next multiple of four.
    void (*substitute)(const double* rows, std::size_t size, double* y);
    // The largest magnitude of the 32 sums of taps[k] history[i + k], and of `largest`.
    float (*interpolate)(const float* taps, const float* history, float largest);
};
const Kernels& kernels();
const Kernels& plainKernels(); // those of any PC, to hold the others against

} // namespace couplet
