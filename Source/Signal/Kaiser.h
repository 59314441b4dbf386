// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <cmath>

// Purpose: Kaiser's window, for filters that are designed when they are made.
// Ranges:  `share` is the distance from the window's centre over half its length, -1 to 1; beta 0 to 20.
// Source:  J. F. Kaiser 1974, I_0(beta sqrt(1 - share^2)) / I_0(beta), from memory.
// Thread:  any. std::cyl_bessel_i writes to the C library's `signgam`, and instances are made on several threads at
//          once; this writes to nothing that is shared.
namespace couplet {

// Modified Bessel function of order 0, by its power series, to the last digit.
inline double besselI0(double x)
{
    double sum = 1.0, term = 1.0;
    for (int k = 1; term > 1e-17 * sum; ++k) {
        term *= x * x / (4.0 * k * k);
        sum += term;
    }
    return sum;
}

inline double kaiser(double share, double beta)
{
    return besselI0(beta * std::sqrt(std::max(0.0, 1.0 - share * share))) / besselI0(beta);
}

} // namespace couplet
