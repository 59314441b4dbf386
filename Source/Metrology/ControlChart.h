// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

// Purpose: the offsets of one coupler as a control chart: mean, 3 s limits, and how fast they drift.
// Source:  limits of three standard deviations: Shewhart's charts, common practice; drift JCGM 100:2008 H.3.
// Units:   dB, days.
// Thread:  any but audio.
namespace couplet {

// So many references are needed before their own scatter makes limits and a drift.
inline constexpr std::size_t enoughForLimits = 5;
// What happens within so many days, warmth and seating, is no rate a day (method of this product, no source).
inline constexpr double enoughForDrift_days = 2.0;

struct ChartPoint
{
    std::optional<double> time_days; // since any origin; absent: not known, and then without a part in the drift
    double offset_dB = 0.0;
    bool counts = true;   // neither set aside nor unfit
    bool outside = false; // of the limits; filled in, of points that do not count as well
    bool beforeStep =
        false; // of another state of the chain: neither part of mean, limits and drift, nor judged by them
};

struct DriftRate
{
    double dBPerDay = 0.0;
    double u_dBPerDay = 0.0; // standard uncertainty
    double U_dBPerDay = 0.0; // expanded, 95.45 %
    double degreesOfFreedom = 1.0;

    // More than its own uncertainty can feign.
    bool isReal() const;
};

struct ControlChart
{
    std::vector<ChartPoint> points;        // as given
    std::size_t counted = 0;               // since the newest step
    std::optional<double> mean_dB;         // absent with none that counts
    std::optional<double> deviation_dB;    // s; absent with fewer than two
    std::optional<double> low_dB, high_dB; // mean -+ 3 s; absent with fewer than five
    std::optional<DriftRate> drift;        // absent with fewer than five, or within less than two days
};

ControlChart controlChart(std::vector<ChartPoint>);

// s for limits: a history of one take taken in again and again scatters by round-off alone, and below what the 0.01 dB
// that is shown can tell (a rectangle of that width) its scatter says nothing.
double deviationForLimits_dB(double s_dB);

} // namespace couplet
