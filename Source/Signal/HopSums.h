// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Phasor.h"
#include "Signal/Sizes.h"

#include <array>

// Purpose: what is kept of a hop, or of several in a row: a few sums about its own centre, from which any window can
//          be joined later.
// Source:  least squares on samples t counted from the centre: z = sum x e^{-jwt}, m = sum t x e^{-jwt},
//          q = sum t^2 x e^{-jwt}. No phase runs on from hop to hop, so retuning costs nothing and nothing drifts.
// Thread:  any, audio included.
namespace couplet {

// The frequencies that the lines follow, rad/sample.
struct LineTuning
{
    double tone = 0.0;
    double mains = 0.0;
    double otherMains = 0.0;

    bool operator==(const LineTuning&) const = default;

    // Angular frequency of a line; 0 when that order is not there (at or above 0.98 Nyquist).
    double omega(int line) const
    {
        const double w = line < firstMainsLine   ? (line + 1) * tone
                         : line < firstOtherLine ? (line - firstMainsLine + 1) * mains
                                                 : (line - firstOtherLine + 1) * otherMains;
        return w < highestShareOfNyquist * pi ? w : 0.0;
    }
};

// A complex number for each line, real and imaginary parts apart so that several lines are worked on at once.
struct LineValues
{
    using Column = std::array<double, columns>;
    alignas(vectorBytes) Column re{};
    alignas(vectorBytes) Column im{};

    Phasor operator[](std::size_t line) const { return {re[line], im[line]}; }
    void set(std::size_t line, Phasor value)
    {
        re[line] = value.re;
        im[line] = value.im;
    }
    void add(std::size_t line, Phasor value)
    {
        re[line] += value.re;
        im[line] += value.im;
    }
};

struct HopSums
{
    LineTuning tuning;         // what the sums below were taken at
    LineValues sum;            // z
    LineValues moment;         // m
    LineValues second;         // q
    double total = 0.0;        // sum of x
    double power = 0.0;        // sum of x^2
    bool momentsExact = false; // see MomentCorrection.h
};

} // namespace couplet
