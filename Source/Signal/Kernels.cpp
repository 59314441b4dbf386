// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Kernels.h"

#include "Signal/KernelBodies.h"

namespace couplet {
namespace {

#if defined(__x86_64__)
#define COUPLET_WIDE [[gnu::target("avx2")]]
struct Wide
{
    COUPLET_WIDE static void project(const double* even, const double* odd, const ChunkTable& table, LineValues& to)
    {
        Bodies::project(even, odd, table, to);
    }
    COUPLET_WIDE static void gather(const LineValues& chunk, double centre, const LineValues& step, LineValues& turn,
                                    HopSums& sums)
    {
        Bodies::gather(chunk, centre, step, turn, sums);
    }
    COUPLET_WIDE static void subtract(double re, double im, const double* cosine, const double* sine, double* even,
                                      double* odd)
    {
        Bodies::subtract(re, im, cosine, sine, even, odd);
    }
    COUPLET_WIDE static void join(const HopSums& record, const double* d, const LineValues& turn, double t,
                                  HopSums& window)
    {
        Bodies::join(record, d, turn, t, window);
    }
    COUPLET_WIDE static void filter(FilterBank& bank, const float* stream, const double* left, FilteredChunk& to)
    {
        Bodies::filter(bank, stream, left, to);
    }
    COUPLET_WIDE static double power(const double* even, const double* odd) { return Bodies::power(even, odd); }
    COUPLET_WIDE static bool factor(double* rows, std::size_t size) { return Bodies::factor(rows, size); }
    COUPLET_WIDE static void substitute(const double* rows, std::size_t size, double* y)
    {
        Bodies::substitute(rows, size, y);
    }
    COUPLET_WIDE static float interpolate(const float* taps, const float* history, float largest)
    {
        return Bodies::interpolate(taps, history, largest);
    }
};
bool hasWideRegisters()
{
    return __builtin_cpu_supports("avx2") != 0;
}
#else
using Wide = Bodies;
bool hasWideRegisters()
{
    return false;
}
#endif

template <class From> constexpr Kernels kernelsOf()
{
    return {From::project, From::gather, From::subtract,   From::join,       From::filter,
            From::power,   From::factor, From::substitute, From::interpolate};
}

} // namespace

const Kernels& plainKernels()
{
    static constexpr Kernels plain = kernelsOf<Bodies>();
    return plain;
}

const Kernels& kernels()
{
    static constexpr Kernels wide = kernelsOf<Wide>();
    static const Kernels& chosen = hasWideRegisters() ? wide : plainKernels();
    return chosen;
}

} // namespace couplet
