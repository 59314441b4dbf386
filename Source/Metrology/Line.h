// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

// Purpose: a straight line through readings by least squares, with what it leaves uncertain.
// Source:  JCGM 100:2008 H.3.
// Errors:  fewer than three readings, or all at one place, have no line with an uncertainty: absent.
// Thread:  any but audio.
namespace couplet {

struct Line
{
    double intercept = 0.0, slope = 0.0;   // y = intercept + slope (x - origin)
    double uIntercept = 0.0, uSlope = 0.0; // standard uncertainties
    double correlation = 0.0;              // of the two
    double deviation = 0.0;                // of the readings about the line
    double degreesOfFreedom = 1.0;         // readings less two
    double origin = 0.0;

    double at(double x) const { return intercept + slope * (x - origin); }
    double uAt(double x) const;
};

// `x` and `y` are as long as each other.
std::optional<Line> lineThrough(const std::vector<double>& x, const std::vector<double>& y, double origin = 0.0);

} // namespace couplet
