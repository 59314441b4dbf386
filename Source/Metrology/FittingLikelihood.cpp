// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/FittingLikelihood.h"

#include "Metrology/ScaledErfc.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

// Points stand evenly in asinh(distance / narrowest): close together near 0, by 6 % of themselves far out. Cubics
// through four of them are within 1e-3 in the logarithm, where an error told by the scatter gives way to one that is not
// as well.
constexpr double pointSpacing = 0.06;
constexpr double negligibleLog = 30.0, unlikelyLog = 18.0;

template <std::size_t count> std::array<double, count> logMidpoints(double low, double high)
{
    std::array<double, count> middles{};
    const double step = std::log(high / low) / count;
    for (std::size_t i = 0; i < count; ++i)
        middles[i] = low * std::exp(step * (static_cast<double>(i) + 0.5));
    return middles;
}

// What a cell's middle is multiplied by for the mean over the cell: so few cells keep tails and ends exact.
double meanOfCell(double low, double high, std::size_t count)
{
    const double step = std::log(high / low) / static_cast<double>(count);
    return step > 1e-6 ? std::sinh(0.5 * step) / (0.5 * step) : 1.0;
}

constexpr double leastPerScatter = 0.3, mostPerScatter = 8.0; // kappa

const std::array<double, ownCells>& ownErrors()
{
    static const auto all = [] {
        auto middles = logMidpoints<ownCells>(leastOwnError_dB, mostOwnError_dB);
        for (double& f : middles)
            f *= meanOfCell(leastOwnError_dB, mostOwnError_dB, ownCells);
        return middles;
    }();
    return all;
}

// How well l explains the scatter s of n readings: chi-squared of n - 1 degrees of freedom.
double logWeightOf(const FittingEvidence& fitting, double l)
{
    const double ratio = fitting.count > 1 ? fitting.scatter_dB / l : 0.0;
    return -(static_cast<double>(fitting.count) - 1.0) * (std::log(l) + 0.5 * ratio * ratio);
}

struct Scale
{
    double l, v, logWeight; // v = l^2 / n + u_through^2; weights add up to 1
};

// Cells where l explains the scatter, however many readings have narrowed it down.
std::vector<Scale> scalesOf(const FittingEvidence& fitting, double u_through_dB)
{
    const auto n = static_cast<double>(fitting.count);
    const double most =
        logWeightOf(fitting, std::clamp(fitting.count > 1 ? fitting.scatter_dB : loosest_dB, tightest_dB, loosest_dB));
    const auto explains = [&](double l) { return logWeightOf(fitting, l) > most - unlikelyLog; };
    // Between the best l and a bound that does not explain it any more, if there is one: where it ends.
    const auto endFrom = [&](double bound) {
        double in = std::clamp(fitting.count > 1 ? fitting.scatter_dB : loosest_dB, tightest_dB, loosest_dB);
        if (explains(bound))
            return bound;
        for (int halving = 0; halving < 40; ++halving) {
            const double middle = std::sqrt(in * bound);
            (explains(middle) ? in : bound) = middle;
        }
        return in;
    };
    const double low = endFrom(tightest_dB), high = endFrom(loosest_dB);
    std::vector<Scale> scales;
    double sum = 0.0;
    for (const double middle : logMidpoints<loosenessCells>(low, high)) {
        const double l = middle * meanOfCell(low, high, loosenessCells);
        scales.push_back({l, l * l / n + u_through_dB * u_through_dB, logWeightOf(fitting, middle) - most});
        sum += std::exp(scales.back().logWeight);
    }
    for (auto& scale : scales)
        scale.logWeight -= std::log(sum);
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
    static const auto all = [] {
        auto middles = logMidpoints<kappaCells>(leastPerScatter, mostPerScatter);
        for (double& kappa : middles)
            kappa *= meanOfCell(leastPerScatter, mostPerScatter, kappaCells);
        return middles;
    }();
    return all;
}

double FittingLikelihood::narrowestOf(const FittingEvidence& fitting, double u_through_dB)
{
    return std::sqrt(scalesOf(fitting, u_through_dB).front().v);
}

namespace {

double logOfSum(double a, double b)
{
    const double top = std::max(a, b);
    return top + std::log(std::exp(a - top) + std::exp(b - top));
}

// log of (1 - q) told + q own, both without the factor 1 / sqrt(2 pi).
double mixed(double logTold, double logOwn)
{
    return logOfSum(std::log(1.0 - ownErrorPrior) + logTold, logOwn);
}

// An error that the scatter does not bound: q times the mean over f and l of N(x; 0, v + f^2), likewise.
class OwnError
{
public:
    explicit OwnError(const std::vector<Scale>& scales)
    {
        for (const auto& scale : scales)
            for (const double f : ownErrors()) {
                const double variance = scale.v + f * f;
                parts.push_back({scale.logWeight - 0.5 * std::log(variance), 0.5 / variance});
            }
    }

    double logAt(double x) const
    {
        double highest = -INFINITY, sum = 0.0;
        for (const auto& part : parts)
            highest = std::max(highest, part.logHeight - x * x * part.slope);
        for (const auto& part : parts)
            if (const double log = part.logHeight - x * x * part.slope - highest; log > -negligibleLog)
                sum += std::exp(log);
        return std::log(ownErrorPrior / ownCells) + highest + std::log(sum);
    }

private:
    struct Part
    {
        double logHeight, slope;
    };
    std::vector<Part> parts;
};

} // namespace

FittingLikelihood::FittingLikelihood(const FittingEvidence& fitting, double u_through_dB, double reach_dB)
    : says(fitting.says_dB), width(narrowestOf(fitting, u_through_dB)), spacing(pointSpacing),
      points(static_cast<std::size_t>(std::asinh(reach_dB / width) / spacing) + 4)
{
    const auto scales = scalesOf(fitting, u_through_dB);
    const std::size_t count = scales.size();
    table.resize(points * kappaCells);
    own.reserve(points);
    const OwnError ownError(scales);
    for (std::size_t point = 0; point < points; ++point)
        own.push_back(ownError.logAt(width * std::sinh(spacing * static_cast<double>(point))));
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
            table[point * kappaCells + k] = {mixed(logAny, own[point]), mixed(logSame, own[point]),
                                             mixed(logAgainst, own[point])};
        }
    }
}

FittingLikelihood::Place FittingLikelihood::placeOf(double c_dB) const
{
    const double x = says - c_dB;
    const double place = std::asinh(std::abs(x) / width) / spacing;
    const auto cell = static_cast<std::size_t>(place);
    const std::size_t first = std::min(cell > 0 ? cell - 1 : 0, points - 4);
    const double s = place - static_cast<double>(first); // within 0 to 3
    // Lagrange's cubic through points 0, 1, 2 and 3.
    return {first,
            {-(s - 1.0) * (s - 2.0) * (s - 3.0) / 6.0, s * (s - 2.0) * (s - 3.0) / 2.0,
             -s * (s - 1.0) * (s - 3.0) / 2.0, s * (s - 1.0) * (s - 2.0) / 6.0},
            static_cast<std::size_t>(x >= 0.0 ? ErrorSign::high : ErrorSign::low)};
}

void FittingLikelihood::addTo(std::array<double, fitStates>& states, double c_dB, double factor) const
{
    const auto [first, weights, same] = placeOf(c_dB);
    const std::size_t against = 3 - same;
    for (std::size_t point = 0; point < 4; ++point) {
        const double weight = factor * weights[point];
        const Logs* row = &table[(first + point) * kappaCells];
        for (std::size_t k = 0; k < kappaCells; ++k) {
            states[signCells * k] += weight * row[k].any;
            states[signCells * k + same] += weight * row[k].same;
            states[signCells * k + against] += weight * row[k].against;
        }
    }
}

std::array<double, fitStates> FittingLikelihood::ownErrorShares(double c_dB) const
{
    std::array<double, fitStates> logs{};
    addTo(logs, c_dB, 1.0);
    const auto place = placeOf(c_dB);
    double logOwn = 0.0;
    for (std::size_t point = 0; point < 4; ++point)
        logOwn += place.weights[point] * own[place.first + point];
    for (double& each : logs)
        each = std::min(1.0, std::exp(logOwn - each));
    return logs;
}

} // namespace couplet
