// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>

// Purpose: what a sample must be to be taken for sound: all that averages or sums asks this first; and where a converter
//          ends.
// Shapes:  one sample at a time.
// Units:   full scale = 1.
// Ranges:  any float, NaN and infinity too.
// Thread:  any (no allocation, no locks).
namespace couplet {

// 120 dB above full scale: no converter and no chain of gains gives it, and its square would drown all that is summed.
inline constexpr float largestSound = 1e6f;

// A converter's full scale lies up to 2 in 32768 below 1 in 16 bits.
inline constexpr float converterFullScale = 0.9999f;

inline bool isSound(float x)
{
    return std::abs(x) <= largestSound; // false of what is no number
}

} // namespace couplet
