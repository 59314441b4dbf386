// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/FitEvidence.h"

// Purpose: how likely an earphone's say is, given the correction: with a probability of 0.95 its sensitivity lies within
//          its rating, a rectangle blurred by u; else anywhere, most likely within a few tolerances (a Cauchy density).
//          So an earphone far outside costs a factor, and draws the result no more.
// Source:  model of this product (docs/method.md); 0.05 and three tolerances have no source.
// Units:   dB; natural logarithms.
// Thread:  any but audio.
namespace couplet {

inline constexpr double outsidePrior = 0.05;
inline constexpr double outsideSpread = 3.0;       // half-width at half height, in half-widths of the rating
inline constexpr double finestEarphoneU_dB = 1e-3; // a u below this counts as this

struct EarphoneLogs
{
    double both = 0.0;    // log of (1 - 0.05) inside + 0.05 outside
    double outside = 0.0; // log of 0.05 outside
};

EarphoneLogs logLikelihood(const EarphoneEvidence&, double c_dB);

double uOf(const EarphoneEvidence&); // at least the finest

} // namespace couplet
