// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Kernels.h"

#include <algorithm>
#include <cmath>
#include <cstring>

// Purpose: what the kernels do, to be inlined into a function for each kind of processor: Kernels.cpp alone includes it.
// Thread:  audio (no allocation, no locks).
namespace couplet {

// Four lanes: one register of 256 bits, or two of 128.
using Four = double __attribute__((vector_size(vectorBytes)));
constexpr std::size_t lanes = 4;

#define COUPLET_INLINE [[gnu::always_inline]] inline

COUPLET_INLINE Four& at(double* p, std::size_t i) // NOLINT(readability-non-const-parameter): it is written through
{
    return *reinterpret_cast<Four*>(p + i);
}
COUPLET_INLINE const Four& at(const double* p, std::size_t i)
{
    return *reinterpret_cast<const Four*>(p + i);
}

// Vectors are handed on by reference: by value their calling convention would depend on the processor.
// Makes each lane |x| when that is larger.
COUPLET_INLINE void raise(Four& magnitude, const Four& x)
{
    using Bits = long long __attribute__((vector_size(vectorBytes)));
    const Four other = reinterpret_cast<Four>(reinterpret_cast<Bits>(x) & 0x7fffffffffffffffLL);
    magnitude = other > magnitude ? other : magnitude;
}

COUPLET_INLINE double sum(const Four& v)
{
    return (v[0] + v[1]) + (v[2] + v[3]);
}

// Where the block of four begins that holds this one.
COUPLET_INLINE std::size_t blockOf(std::size_t i)
{
    return i / lanes * lanes;
}

// In registers for the length of a chunk.
struct Sections
{
    COUPLET_INLINE explicit Sections(const FourSections& from)
        : b0(at(from.b0.data(), 0)), b1(at(from.b1.data(), 0)), b2(at(from.b2.data(), 0)), a1(at(from.a1.data(), 0)),
          a2(at(from.a2.data(), 0)), s1(at(from.s1.data(), 0)), s2(at(from.s2.data(), 0))
    {
    }
    COUPLET_INLINE void step(const Four& x, Four& y)
    {
        y = b0 * x + s1;
        s1 = b1 * x - a1 * y + s2;
        s2 = b2 * x - a2 * y;
    }
    COUPLET_INLINE void keep(FourSections& to) const
    {
        at(to.s1.data(), 0) = s1;
        at(to.s2.data(), 0) = s2;
    }
    Four b0, b1, b2, a1, a2, s1, s2;
};

struct Bodies
{
    COUPLET_INLINE static void project(const double* even, const double* odd, const ChunkTable& table, LineValues& to)
    {
        // All columns at once: twelve sums keep the adders busy, and each half sample is fetched once.
        constexpr std::size_t fours = columns / lanes;
        Four c[fours] = {}, s[fours] = {};
        for (std::size_t i = 0; i < halfChunk; ++i) {
            const double *cosine = table.cosine[i].data(), *sine = table.sine[i].data();
            const Four e = Four{} + even[i], o = Four{} + odd[i];
#pragma GCC unroll 6
            for (std::size_t k = 0; k < fours; ++k) {
                c[k] += e * at(cosine, k * lanes);
                s[k] += o * at(sine, k * lanes);
            }
        }
#pragma GCC unroll 6
        for (std::size_t k = 0; k < fours; ++k) {
            at(to.re.data(), k * lanes) = c[k];
            at(to.im.data(), k * lanes) = s[k];
        }
    }

    COUPLET_INLINE static void gather(const LineValues& chunk, double centre, const LineValues& step, LineValues& turn,
                                      HopSums& sums)
    {
        for (std::size_t i = 0; i < columns; i += lanes) {
            const Four e = at(chunk.re.data(), i), o = at(chunk.im.data(), i);
            const Four tr = at(turn.re.data(), i), ti = at(turn.im.data(), i);
            const Four zr = tr * e + ti * o, zi = ti * e - tr * o;
            const Four mr = centre * zr, mi = centre * zi;
            at(sums.sum.re.data(), i) += zr;
            at(sums.sum.im.data(), i) += zi;
            at(sums.moment.re.data(), i) += mr;
            at(sums.moment.im.data(), i) += mi;
            at(sums.second.re.data(), i) += centre * mr;
            at(sums.second.im.data(), i) += centre * mi;
            const Four sr = at(step.re.data(), i), si = at(step.im.data(), i);
            at(turn.re.data(), i) = tr * sr - ti * si;
            at(turn.im.data(), i) = tr * si + ti * sr;
        }
    }

    COUPLET_INLINE static void subtract(double re, double im, const double* cosine, const double* sine, double* even,
                                        double* odd)
    {
        for (std::size_t i = 0; i < halfChunk; i += lanes) {
            at(even, i) -= re * at(cosine, i);
            at(odd, i) += im * at(sine, i);
        }
    }

    // z' = z - j d m - d^2 q / 2 and m' = m - j d q; then turned, and about the window's centre.
    COUPLET_INLINE static void join(const HopSums& record, const double* d, const LineValues& turn, double t,
                                    HopSums& window)
    {
        for (std::size_t i = 0; i < columns; i += lanes) {
            const Four by = at(d, i), half = 0.5 * by * by;
            const Four qr = at(record.second.re.data(), i), qi = at(record.second.im.data(), i);
            const Four nr = at(record.moment.re.data(), i), ni = at(record.moment.im.data(), i);
            const Four zr = at(record.sum.re.data(), i) + by * ni - half * qr;
            const Four zi = at(record.sum.im.data(), i) - by * nr - half * qi;
            const Four mr = nr + by * qi, mi = ni - by * qr;
            const Four fr = t * zr + mr, fi = t * zi + mi;               // first moment
            const Four gr = t * (fr + mr) + qr, gi = t * (fi + mi) + qi; // second
            const Four tr = at(turn.re.data(), i), ti = at(turn.im.data(), i);
            at(window.sum.re.data(), i) += tr * zr - ti * zi;
            at(window.sum.im.data(), i) += tr * zi + ti * zr;
            at(window.moment.re.data(), i) += tr * fr - ti * fi;
            at(window.moment.im.data(), i) += tr * fi + ti * fr;
            at(window.second.re.data(), i) += tr * gr - ti * gi;
            at(window.second.im.data(), i) += tr * gi + ti * gr;
        }
    }

    COUPLET_INLINE static void filter(FilterBank& bank, const float* stream, const double* left, FilteredChunk& to)
    {
        Sections edges(bank.edges), first(bank.first), second(bank.second);
        Four last = at(bank.last.data(), 0), lastOfEdges = at(bank.lastOfEdges.data(), 0);
        Four squares0{}, squares1{}, squaresOfEdges{}, peaks0{}, peaks1{};
        for (std::size_t i = 0; i < chunkLength; ++i) {
            const double x = stream[i];
            Four y0, y1;
            edges.step(__builtin_shufflevector(Four{} + left[i], lastOfEdges, 0, 4, 5, 6), y0);
            lastOfEdges = y0;
            squaresOfEdges += y0 * y0;
            const double y = y0[3];
            first.step(Four{x, y, x, y}, y0);
            second.step(__builtin_shufflevector(y0, last, 0, 1, 4, 5), y1);
            last = y1;
            squares0 += y0 * y0;
            squares1 += y1 * y1;
            raise(peaks0, y0);
            raise(peaks1, y1);
            to.weightedC[i] = static_cast<float>(y1[0]);
        }
        edges.keep(bank.edges);
        first.keep(bank.first);
        second.keep(bank.second);
        at(bank.last.data(), 0) = last;
        at(bank.lastOfEdges.data(), 0) = lastOfEdges;
        at(to.squares[0].data(), 0) = squares0;
        at(to.squares[1].data(), 0) = squares1;
        at(to.squaresOfEdges.data(), 0) = squaresOfEdges;
        at(to.peaks[0].data(), 0) = peaks0;
        at(to.peaks[1].data(), 0) = peaks1;
    }

    COUPLET_INLINE static double power(const double* even, const double* odd)
    {
        Four squares{};
        for (std::size_t i = 0; i < halfChunk; i += lanes)
            squares += at(even, i) * at(even, i) + at(odd, i) * at(odd, i);
        return 0.5 * sum(squares);
    }

    COUPLET_INLINE static bool factor(double* rows, std::size_t size)
    {
        for (std::size_t j = 0; j < size; ++j) {
            double* pivotRow = rows + j * mostUnknowns;
            if (!(pivotRow[j] > 0.0))
                return false;
            const double inverse = 1.0 / std::sqrt(pivotRow[j]);
            for (std::size_t k = blockOf(j); k < size; k += lanes)
                at(pivotRow, k) *= inverse;
            for (std::size_t r = j + 1; r < size; ++r) {
                double* row = rows + r * mostUnknowns;
                const double v = pivotRow[r];
                for (std::size_t k = blockOf(r); k < size; k += lanes)
                    at(row, k) -= v * at(pivotRow, k);
            }
            pivotRow[j] = inverse;
        }
        return true;
    }

    // Four unknowns at a time: a processor that has just written one of four numbers side by side would wait before it
    // may read all four.
    COUPLET_INLINE static void substitute(const double* rows, std::size_t size, double* y)
    {
        for (std::size_t block = 0; block < size; block += lanes) {
            const double *a = rows + block * mostUnknowns, *b = a + mostUnknowns, *c = b + mostUnknowns,
                         *d = c + mostUnknowns;
            const Four v = at(y, block);
            const double v0 = v[0] * a[block];
            const double v1 = (v[1] - a[block + 1] * v0) * b[block + 1];
            const double v2 = (v[2] - a[block + 2] * v0 - b[block + 2] * v1) * c[block + 2];
            const double v3 = (v[3] - a[block + 3] * v0 - b[block + 3] * v1 - c[block + 3] * v2) * d[block + 3];
            at(y, block) = Four{v0, v1, v2, v3};
            for (std::size_t k = block + lanes; k < size; k += lanes)
                at(y, k) = at(y, k) - at(a, k) * v0 - at(b, k) * v1 - at(c, k) * v2 - at(d, k) * v3;
        }
        for (std::size_t block = blockOf(size - 1) + lanes; block > 0;) {
            block -= lanes;
            const double *a = rows + block * mostUnknowns, *b = a + mostUnknowns, *c = b + mostUnknowns,
                         *d = c + mostUnknowns;
            Four sa{}, sb{}, sc{}, sd{};
            for (std::size_t k = block + lanes; k < size; k += lanes) {
                const Four x = at(y, k);
                sa += at(a, k) * x;
                sb += at(b, k) * x;
                sc += at(c, k) * x;
                sd += at(d, k) * x;
            }
            const Four v = at(y, block);
            const double v3 = (v[3] - sum(sd)) * d[block + 3];
            const double v2 = (v[2] - sum(sc) - c[block + 3] * v3) * c[block + 2];
            const double v1 = (v[1] - sum(sb) - b[block + 2] * v2 - b[block + 3] * v3) * b[block + 1];
            const double v0 = (v[0] - sum(sa) - a[block + 1] * v1 - a[block + 2] * v2 - a[block + 3] * v3) * a[block];
            at(y, block) = Four{v0, v1, v2, v3};
        }
    }

    COUPLET_INLINE static float interpolate(const float* taps, const float* history, float largest)
    {
        using Eight = float __attribute__((vector_size(vectorBytes), aligned(4)));
        Eight sum[4] = {};
        for (int k = 0; k < interpolationTaps; ++k)
            for (int j = 0; j < 4; ++j) {
                Eight x;
                std::memcpy(&x, history + k + 8 * j, sizeof x);
                sum[j] += taps[k] * x;
            }
        for (const Eight& eight : sum)
            for (int lane = 0; lane < 8; ++lane)
                largest = std::max(largest, std::abs(eight[lane]));
        return largest;
    }
};

} // namespace couplet
