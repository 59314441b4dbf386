// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/FitDensity.h"
#include "Metrology/FitEvidence.h"

#include <array>
#include <optional>
#include <vector>

// Purpose: the density of what to take off this calibrator on this coupler, from all evidence together, and what it
//          would be without each item.
// Source:  model of this product (docs/method.md): prior flat in c; fittings widened by what they share, earphones by
//          what they share (Student's t: that u is itself uncertain), earphones by what they share; their product.
// Units:   dB.
// Errors:  none; with neither fitting nor earphone there is no density (absent).
// Thread:  any but audio; some 10 ms, and twice as much again with `each`.
namespace couplet {

// How probable each sign of the fittings' own errors is.
struct SignShares
{
    double any = 0.0, high = 0.0, low = 0.0; // sum 1
};

struct FitPosterior
{
    DensitySummary all;
    std::vector<DensityPoint> curve; // where there is anything to be seen
    std::vector<double> peaks_dB;    // ascending; more than one: the evidence falls apart
    // What the fittings say before the error that they may share, and with it; what the earphones say. Absent without.
    std::optional<DensitySummary> fittingsBare, fittings, earphones;
    // The rest only when asked for each.
    std::optional<double> kappa; // mean of error per scatter; absent without fittings
    std::optional<SignShares> sign;
    // Without each item, in the order of the evidence; absent where nothing else is left.
    std::vector<std::optional<DensitySummary>> withoutFitting, withoutEarphone;
    std::vector<double> ownError;              // probability that a fitting has an error its scatter does not bound
    std::vector<double> outside, outsideAside; // probability that an earphone lies outside its rating
};

enum class FitDepth { result, each }; // each: also without each item, and the probabilities

std::optional<FitPosterior> posteriorOf(const FitEvidence&, FitDepth);

} // namespace couplet
