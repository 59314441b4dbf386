// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/FitDensity.h"

#include "Metrology/Expanded.h"

#include <algorithm>
#include <cmath>

namespace couplet {

DensitySummary summaryOf(const FitGrid& grid, const std::vector<double>& logs)
{
    const auto& c = grid.points();
    const double top = *std::max_element(logs.begin(), logs.end());
    std::vector<double> density(logs.size());
    double whole = 0.0, first = 0.0;
    for (std::size_t i = 0; i < c.size(); ++i) {
        density[i] = std::exp(logs[i] - top);
        whole += density[i] * grid.weights()[i];
        first += c[i] * density[i] * grid.weights()[i];
    }
    DensitySummary s;
    s.mean_dB = first / whole;
    double second = 0.0;
    for (std::size_t i = 0; i < c.size(); ++i)
        second += (c[i] - s.mean_dB) * (c[i] - s.mean_dB) * density[i] * grid.weights()[i];
    s.u_dB = std::sqrt(second / whole);
    const auto quantile = [&](double wanted) {
        double below = 0.0;
        for (std::size_t i = 1; i < c.size(); ++i) {
            const double step = c[i] - c[i - 1], d0 = density[i - 1], d1 = density[i];
            const double part = 0.5 * (d0 + d1) * step;
            if (below + part < wanted * whole) {
                below += part;
                continue;
            }
            // Within the cell the density is a straight line: d0 f + (d1 - d0) f^2 / 2 = left, f from 0 to 1.
            const double left = (wanted * whole - below) / step, slope = d1 - d0;
            const double f = 2.0 * left / (d0 + std::sqrt(std::max(d0 * d0 + 2.0 * slope * left, 0.0)));
            return c[i - 1] + step * std::clamp(f, 0.0, 1.0);
        }
        return c.back();
    };
    s.low_dB = quantile(0.5 * (1.0 - coverageProbability));
    s.high_dB = quantile(0.5 * (1.0 + coverageProbability));
    return s;
}

std::vector<DensityPoint> curveOf(const FitGrid& grid, const std::vector<double>& logs)
{
    const double top = *std::max_element(logs.begin(), logs.end());
    double whole = 0.0;
    for (std::size_t i = 0; i < grid.size(); ++i)
        whole += std::exp(logs[i] - top) * grid.weights()[i];
    constexpr double unseen = 1e-4;
    std::vector<DensityPoint> curve;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (const double height = std::exp(logs[i] - top); height > unseen)
            curve.push_back({grid.points()[i], height / whole});
    return curve;
}

std::vector<double> peaksOf(const std::vector<DensityPoint>& curve)
{
    constexpr double least = 0.05, dip = 0.75;
    double top = 0.0;
    for (const auto& point : curve)
        top = std::max(top, point.density);
    std::vector<DensityPoint> peaks;
    double valley = 0.0; // lowest since the last peak
    for (std::size_t i = 0; i < curve.size(); ++i) {
        const double before = i > 0 ? curve[i - 1].density : 0.0;
        const double after = i + 1 < curve.size() ? curve[i + 1].density : 0.0;
        valley = std::min(valley, curve[i].density);
        if (curve[i].density < least * top || curve[i].density < before || curve[i].density <= after)
            continue;
        const bool apart = peaks.empty() || valley < dip * std::min(peaks.back().density, curve[i].density);
        if (apart)
            peaks.push_back(curve[i]);
        else if (curve[i].density > peaks.back().density)
            peaks.back() = curve[i];
        if (apart || peaks.back().c_dB == curve[i].c_dB)
            valley = curve[i].density;
    }
    std::vector<double> places;
    places.reserve(peaks.size());
    for (const auto& peak : peaks)
        places.push_back(peak.c_dB);
    return places;
}

} // namespace couplet
