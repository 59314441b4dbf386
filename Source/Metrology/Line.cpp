// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Line.h"

#include "Metrology/Repeats.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace couplet {

double Line::uAt(double x) const
{
    const double d = x - origin;
    const double variance =
        uIntercept * uIntercept + d * d * uSlope * uSlope + 2.0 * d * uIntercept * uSlope * correlation;
    return std::sqrt(std::max(0.0, variance));
}

std::optional<Line> lineThrough(const std::vector<double>& x, const std::vector<double>& y, double origin)
{
    const std::size_t count = std::min(x.size(), y.size());
    if (count < 3)
        return std::nullopt;
    // About the means, where the two figures do not depend on each other and no digits are lost.
    const auto meanX = repeatsOf(x), meanY = repeatsOf(y);
    double xx = 0.0, xy = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        const double d = x[i] - meanX->mean;
        xx += d * d;
        xy += d * (y[i] - meanY->mean);
    }
    if (!(xx > 0.0) || !std::isfinite(xx) || !std::isfinite(xy))
        return std::nullopt;
    Line line;
    line.origin = origin;
    line.slope = xy / xx;
    const double toOrigin = meanX->mean - origin;
    line.intercept = meanY->mean - line.slope * toOrigin;
    double left = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        const double r = y[i] - line.at(x[i]);
        left += r * r;
    }
    const auto n = static_cast<double>(count);
    line.degreesOfFreedom = n - 2.0;
    line.deviation = std::sqrt(left / line.degreesOfFreedom);
    line.uSlope = line.deviation / std::sqrt(xx);
    const double perVariance = 1.0 / n + toOrigin * toOrigin / xx;
    line.uIntercept = line.deviation * std::sqrt(perVariance);
    line.correlation = -toOrigin / std::sqrt(xx * perVariance);
    return line;
}

} // namespace couplet
