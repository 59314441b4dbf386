// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/FitEvidence.h"

#include <array>
#include <optional>
#include <vector>

// Purpose: the density of what to take off this calibrator on this coupler, from all evidence together, and what it
//          would be without each item.
// Source:  model of this product (docs/method.md): prior flat in c; fittings widened by what they share, earphones by
//          what they share; their product.
// Units:   dB.
// Errors:  none; with neither fitting nor earphone there is no density (absent).
// Thread:  any but audio; some 20 ms, and as much again with `each`.
namespace couplet {

struct DensitySummary
{
    double mean_dB = 0.0;
    double u_dB = 0.0;                  // standard deviation
    double low_dB = 0.0, high_dB = 0.0; // central 95.45 %
};

struct DensityPoint
{
    double c_dB, density; // per dB
};

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
    std::optional<double> kappa;     // mean of error per scatter; absent without fittings
    std::optional<SignShares> sign;
    // Without each item, in the order of the evidence; absent where nothing else is left, and unless asked for.
    std::vector<std::optional<DensitySummary>> withoutFitting, withoutEarphone;
};

enum class FitDepth { result, each }; // each: also without each item

std::optional<FitPosterior> posteriorOf(const FitEvidence&, FitDepth);

} // namespace couplet
