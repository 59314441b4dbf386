// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Sizes.h"

#include <array>
#include <cmath>
#include <cstddef>

// Purpose: the flat-top window HFT95: the highest line of a sine has the sine's level, wherever it lies between lines.
// Units:   bins; powers as ratios.
// Source:  Heinzel, Ruediger and Schilling 2002, appendix D (second-hand): flat within 0.0044 dB, sidelobes below
//          -95 dB, effective noise bandwidth 3.8112 bins, recommended overlap 75.6 %.
// Thread:  any.
namespace couplet {

inline constexpr std::array<double, 5> flatTopTerms{1.0, -1.9383379, 1.3045202, -0.4028270, 0.0350665};

// At a share of the transform's length, 0 <= share < 1; its mean over the length is 1.
inline double flatTop(double share)
{
    double w = 0.0;
    for (std::size_t k = 0; k < flatTopTerms.size(); ++k)
        w += flatTopTerms[k] * std::cos(2.0 * pi * static_cast<double>(k) * share);
    return w;
}

// Mean square over squared mean.
constexpr double flatTopNoiseBins()
{
    double bins = 1.0;
    for (std::size_t k = 1; k < flatTopTerms.size(); ++k)
        bins += flatTopTerms[k] * flatTopTerms[k] / 2.0;
    return bins;
}

} // namespace couplet
