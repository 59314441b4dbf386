// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/ControlChart.h"

#include "Metrology/Expanded.h"
#include "Metrology/Line.h"
#include "Metrology/Repeats.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

constexpr double leastDeviation_dB = 0.01 / (2.0 * std::numbers::sqrt3);

std::optional<DriftRate> driftOf(const std::vector<ChartPoint>& points)
{
    std::vector<double> days, offsets;
    for (const auto& point : points)
        if (point.counts && !point.beforeStep && point.time_days) {
            days.push_back(*point.time_days);
            offsets.push_back(point.offset_dB);
        }
    if (days.size() < enoughForLimits)
        return std::nullopt;
    const auto [first, last] = std::minmax_element(days.begin(), days.end());
    if (*last - *first < enoughForDrift_days)
        return std::nullopt;
    const auto line = lineThrough(days, offsets, days.front());
    if (!line)
        return std::nullopt;
    return DriftRate{line->slope, line->uSlope,
                     line->uSlope * studentQuantile(coverageProbability, line->degreesOfFreedom),
                     line->degreesOfFreedom};
}

} // namespace

bool DriftRate::isReal() const
{
    return std::abs(dBPerDay) > U_dBPerDay;
}

double deviationForLimits_dB(double s_dB)
{
    return std::max(s_dB, leastDeviation_dB);
}

ControlChart controlChart(std::vector<ChartPoint> points)
{
    ControlChart chart;
    chart.points = std::move(points);
    std::vector<double> offsets;
    for (const auto& point : chart.points)
        if (point.counts && !point.beforeStep)
            offsets.push_back(point.offset_dB);
    chart.counted = offsets.size();
    if (!offsets.empty())
        chart.mean_dB = offsets.front();
    if (const auto history = repeatsOf(offsets)) {
        chart.mean_dB = history->mean;
        chart.deviation_dB = history->deviation;
        if (chart.counted >= enoughForLimits) {
            const double width_dB = 3.0 * deviationForLimits_dB(history->deviation);
            chart.low_dB = history->mean - width_dB;
            chart.high_dB = history->mean + width_dB;
            for (auto& point : chart.points)
                point.outside =
                    !point.beforeStep && (point.offset_dB < *chart.low_dB || point.offset_dB > *chart.high_dB);
        }
    }
    chart.drift = driftOf(chart.points);
    return chart;
}

} // namespace couplet
