// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>

// Purpose: ratios and decibels.
// Units:   'ratio' is of amplitudes or RMS values, 'powerRatio' of their squares; dB without reference.
// Ranges:  ratios > 0; zero gives -infinity and a negative ratio NaN, which callers must keep from reaching a screen.
// Thread:  any (no allocation, no locks).
namespace couplet {

inline double decibels(double ratio)
{
    return 20.0 * std::log10(ratio);
}
inline double decibelsOfPower(double powerRatio)
{
    return 10.0 * std::log10(powerRatio);
}
inline double ratioFrom_dB(double level_dB)
{
    return std::pow(10.0, level_dB / 20.0);
}
inline double powerRatioFrom_dB(double level_dB)
{
    return std::pow(10.0, level_dB / 10.0);
}

// dB per relative change, 20 / ln 10: u(level) = this * u(A) / A.
inline constexpr double dBPerRelative = 8.685889638065037;

} // namespace couplet
