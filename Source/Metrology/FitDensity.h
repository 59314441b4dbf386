// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/FitGrid.h"

#include <vector>

// Purpose: what is told of a density of the correction on its grid: mean, deviation, central interval, peaks, a curve to
//          draw.
// Source:  method of this product (docs/method.md); the rules for peaks have no source.
// Units:   dB; densities as natural logarithms of any scale, unless said.
// Errors:  none; the logarithms are finite or -infinity, at least one of them finite.
// Thread:  any but audio.
namespace couplet {

struct DensitySummary
{
    double mean_dB = 0.0;
    double u_dB = 0.0;                  // standard deviation
    double low_dB = 0.0, high_dB = 0.0; // central 95.45 %

    double halfWidth_dB() const { return 0.5 * (high_dB - low_dB); }
};

struct DensityPoint
{
    double c_dB, density; // per dB
};

DensitySummary summaryOf(const FitGrid&, const std::vector<double>& logs);

// Where there is anything to be seen.
std::vector<DensityPoint> curveOf(const FitGrid&, const std::vector<double>& logs);

// Peaks that a reader would see, ascending: a twentieth of the highest at least, with a dip of a quarter before the next.
std::vector<double> peaksOf(const std::vector<DensityPoint>& curve);

} // namespace couplet
