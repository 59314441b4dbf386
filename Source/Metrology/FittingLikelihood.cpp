// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/FittingLikelihood.h"

#include "Metrology/ScaledErfc.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

// Points stand evenly in asinh(distance / narrowest): close together near 0, by 12 % of themselves far out. Cubics
// through four of them are within 1e-4 in the logarithm.
constexpr double pointSpacing = 0.12;
constexpr double negligibleLog = 30.0;

template <std::size_t count> std::array<double, count> logMidpoints(double low, double high)
{
    std::array<double, count> middles{};
    const double step = std::log(high / low) / count;
    for (std::size_t i = 0; i < count; ++i)
        middles[i] = low * std::exp(step * (static_cast<double>(i) + 0.5));
    return middles;
}

const std::array<double, loosenessCells>& loosenesses()
{
    static const auto all = logMidpoints<loosenessCells>(tightest_dB, loosest_dB);
    return all;
}

struct Scale
{
    double l, v, logWeight; // v = l^2 / n + u_through^2; weight: how well l explains the scatter
};

// Those l that explain the scatter. Too tight ones are left out, for nothing else can bring them back; loose ones stay:
// they alone explain what lies far off.
std::vector<Scale> scalesOf(const FittingEvidence& fitting, double u_through_dB)
{
    const auto n = static_cast<double>(fitting.count);
    std::vector<Scale> scales;
    double best = -INFINITY;
    for (const double l : loosenesses()) {
        const double ratio = fitting.count > 1 ? fitting.scatter_dB / l : 0.0;
        const double logWeight = -(n - 1.0) * (std::log(l) + 0.5 * ratio * ratio);
        scales.push_back({l, l * l / n + u_through_dB * u_through_dB, logWeight});
        best = std::max(best, logWeight);
    }
    const auto first =
        std::find_if(scales.begin(), scales.end(), [&](const Scale& s) { return s.logWeight > best - negligibleLog; });
    scales.erase(scales.begin(), first);
    for (auto& scale : scales)
        scale.logWeight -= best;
    return scales;
}

double sumOfExponentials(const std::array<double, loosenessCells>& logs, std::size_t count, double highest,
                         const double* factors)
{
    double sum = 0.0;
    for (std::size_t i = 0; i < count; ++i)
        if (logs[i] > highest - negligibleLog)
            sum += std::exp(logs[i] - highest) * (factors != nullptr ? factors[i] : 1.0);
    return sum;
}

} // namespace

const std::array<double, kappaCells>& errorsPerScatter()
{
    constexpr double least = 0.3, most = 8.0;
    static const auto all = logMidpoints<kappaCells>(least, most);
    return all;
}

double FittingLikelihood::narrowestOf(const FittingEvidence& fitting, double u_through_dB)
{
    return std::sqrt(scalesOf(fitting, u_through_dB).front().v);
}

FittingLikelihood::FittingLikelihood(const FittingEvidence& fitting, double u_through_dB, double reach_dB)
    : says(fitting.says_dB), width(narrowestOf(fitting, u_through_dB)), spacing(pointSpacing),
      points(static_cast<std::size_t>(std::asinh(reach_dB / width) / spacing) + 4)
{
    const auto scales = scalesOf(fitting, u_through_dB);
    const std::size_t count = scales.size();
    table.resize(points * kappaCells);
    std::array<double, loosenessCells> normal{}, against{}, tail{};
    for (std::size_t k = 0; k < kappaCells; ++k) {
        std::array<double, loosenessCells> variance{}, logHeight{}, tailSlope{};
        for (std::size_t i = 0; i < count; ++i) {
            const double t = errorsPerScatter()[k] * scales[i].l;
            variance[i] = scales[i].v + t * t;
            logHeight[i] = scales[i].logWeight - 0.5 * std::log(variance[i]);
            tailSlope[i] = t / std::sqrt(2.0 * scales[i].v * variance[i]);
        }
        for (std::size_t point = 0; point < points; ++point) {
            const double x = width * std::sinh(spacing * static_cast<double>(point));
            double highest = -INFINITY, highestAgainst = -INFINITY;
            for (std::size_t i = 0; i < count; ++i) {
                normal[i] = logHeight[i] - 0.5 * x * x / variance[i];
                // N(x; 0, v + t^2) erfc(z) is this times exp(z^2) erfc(z): no digits are lost far out.
                against[i] = logHeight[i] - 0.5 * x * x / scales[i].v;
                tail[i] = scaledErfcQuick(x * tailSlope[i]);
                highest = std::max(highest, normal[i]);
                highestAgainst = std::max(highestAgainst, against[i]);
            }
            const double logAny = highest + std::log(sumOfExponentials(normal, count, highest, nullptr));
            const double logAgainst =
                highestAgainst + std::log(sumOfExponentials(against, count, highestAgainst, tail.data()));
            // Both halves of a skew density add up to twice the symmetric one.
            const double logSame = logAny + std::log(2.0 - std::exp(std::min(logAgainst - logAny, 0.0)));
            table[point * kappaCells + k] = {logAny, logSame, logAgainst};
        }
    }
}

void FittingLikelihood::addTo(std::array<double, fitStates>& states, double c_dB, double factor) const
{
    const double x = says - c_dB;
    const double place = std::asinh(std::abs(x) / width) / spacing;
    const auto cell = static_cast<std::size_t>(place);
    const std::size_t first = std::min(cell > 0 ? cell - 1 : 0, points - 4);
    const double s = place - static_cast<double>(first); // within 0 to 3
    // Lagrange's cubic through points 0, 1, 2 and 3.
    const std::array<double, 4> weights{
        -factor * (s - 1.0) * (s - 2.0) * (s - 3.0) / 6.0, factor * s * (s - 2.0) * (s - 3.0) / 2.0,
        -factor * s * (s - 1.0) * (s - 3.0) / 2.0, factor * s * (s - 1.0) * (s - 2.0) / 6.0};
    const auto same = static_cast<std::size_t>(x >= 0.0 ? ErrorSign::high : ErrorSign::low);
    const std::size_t against = 3 - same;
    for (std::size_t point = 0; point < 4; ++point) {
        const Logs* row = &table[(first + point) * kappaCells];
        for (std::size_t k = 0; k < kappaCells; ++k) {
            states[signCells * k] += weights[point] * row[k].any;
            states[signCells * k + same] += weights[point] * row[k].same;
            states[signCells * k + against] += weights[point] * row[k].against;
        }
    }
}

} // namespace couplet
