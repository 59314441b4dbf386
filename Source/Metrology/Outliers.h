// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

// Purpose: repeated readings that do not belong with the others, and readings that change as time goes on. Both are
//          pointed out, never dropped.
// Source:  Grubbs' test as in ISO 5725-2 (from memory): above the 1 % value an outlier, above the 5 % value a
//          straggler, both sides tested. Spearman's rank correlation with Student's t for its significance, at 1 % (from
//          memory).
// Units:   dB, s.
// Thread:  any but audio.
namespace couplet {

struct Outlier
{
    std::size_t index = 0;  // among the readings given
    double distance = 0.0;  // G: deviation from the mean, in standard deviations
    double critical = 0.0;  // the value it exceeds
    bool straggler = false; // exceeds only the 5 % value
};

// The largest G that n readings may have; `significance` counts both sides. n >= 3.
double grubbsCritical(std::size_t n, double significance);

// One at a time, each time without those found before. Fewer than three readings, or equal ones, have none.
std::vector<Outlier> outliersOf(const std::vector<double>& readings_dB);

// Spearman's rank correlation; equal values share their ranks. Absent when either list is constant or shorter than 3.
// Both of the same length.
std::optional<double> rankCorrelation(const std::vector<double>&, const std::vector<double>&);

struct TimeTrend
{
    bool drifts = false;       // the level follows time
    bool scatterGrows = false; // the deviations from the mean grow with time: something is slipping
};
// Fewer than six readings cannot say.
TimeTrend timeTrendOf(const std::vector<double>& readings_dB, const std::vector<double>& at_s);

} // namespace couplet
