// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Expanded.h"

#include "Metrology/Bisection.h"
#include "Quantities/QuantityText.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <numeric>
#include <utility>

namespace couplet {
namespace {

double combined_dB(const Budget& budget)
{
    double variance = 0.0;
    for (const auto& term : budget)
        variance += term.u_dB * term.u_dB;
    return std::sqrt(variance);
}

// The integral of the standard normal distribution function from -infinity to x.
double integratedNormal(double x)
{
    const double distribution = 0.5 * std::erfc(-x / std::numbers::sqrt2);
    const double density = std::exp(-0.5 * x * x) / std::sqrt(2.0 * std::numbers::pi);
    return x * distribution + density;
}

// A budget's distribution: up to three rectangles keep their shape, largest first; all the rest is one normal variate.
struct Parts
{
    std::vector<double> halfWidths_dB;
    Budget rest;
};

constexpr std::size_t mostRectangles = 3;
// A rectangle this small beside the whole changes nothing but the variance.
constexpr double negligible = 1e-3;

Parts partsOf(const Budget& budget)
{
    Parts parts;
    Budget rectangles;
    const double u = combined_dB(budget);
    for (const auto& term : budget)
        (term.shape == Shape::rectangular && term.u_dB > negligible * u ? rectangles : parts.rest).push_back(term);
    std::stable_sort(rectangles.begin(), rectangles.end(),
                     [](const BudgetTerm& a, const BudgetTerm& b) { return a.u_dB > b.u_dB; });
    for (const auto& term : rectangles) {
        if (parts.halfWidths_dB.size() < mostRectangles)
            parts.halfWidths_dB.push_back(term.u_dB * std::numbers::sqrt3);
        else
            parts.rest.push_back(term);
    }
    return parts;
}

// Gauss-Legendre points and weights of order 8 on -1 to 1 (Abramowitz and Stegun, Table 25.4; from memory).
constexpr std::array<std::pair<double, double>, 4> legendre{{{0.1834346424956498, 0.3626837833783620},
                                                             {0.5255324099163290, 0.3137066458778873},
                                                             {0.7966664774136267, 0.2223810344533745},
                                                             {0.9602898564975363, 0.1012285362903763}}};

// P(X <= x) for a normal variate of deviation sigma plus rectangles: the largest in closed form (it averages the normal
// distribution function over its width), the smaller ones by quadrature over theirs.
double distribution(double x, const std::vector<double>& halfWidths, std::size_t smaller, double sigma)
{
    if (smaller > 0) {
        const double b = halfWidths[smaller];
        double mean = 0.0;
        for (const auto& [node, weight] : legendre)
            for (const double side : {-1.0, 1.0})
                mean += 0.5 * weight * distribution(x + side * node * b, halfWidths, smaller - 1, sigma);
        return mean;
    }
    const double a = halfWidths[0];
    if (sigma <= 1e-9 * a)
        return std::clamp(0.5 + 0.5 * x / a, 0.0, 1.0);
    return sigma / (2.0 * a) * (integratedNormal((x + a) / sigma) - integratedNormal((x - a) / sigma));
}

// Half-width of the interval of 95.45 % for such a sum: no wider than its parts' added.
double convolvedU_dB(const std::vector<double>& halfWidths, double sigma)
{
    const double k = studentQuantile(coverageProbability, infiniteDegrees);
    if (halfWidths.empty())
        return k * sigma;
    const double widest = std::accumulate(halfWidths.begin(), halfWidths.end(), k * sigma);
    return bisected(
        [&](double U) {
            return 2.0 * distribution(U, halfWidths, halfWidths.size() - 1, sigma) - 1.0 - coverageProbability;
        },
        0.0, widest);
}

} // namespace

Expanded expand(const Budget& budget)
{
    Expanded result;
    result.u_dB = combined_dB(budget);
    if (result.u_dB == 0.0)
        return result;
    const auto [halfWidths_dB, rest] = partsOf(budget);
    result.degreesOfFreedom = effectiveDegreesOfFreedom(rest);
    // Few degrees of freedom widen the normal part as Student's t is wider than the normal at this coverage.
    const double widening = studentQuantile(coverageProbability, result.degreesOfFreedom) /
                            studentQuantile(coverageProbability, infiniteDegrees);
    result.U_dB = convolvedU_dB(halfWidths_dB, widening * combined_dB(rest));
    result.coverageFactor = result.U_dB / result.u_dB;
    return result;
}

double effectiveDegreesOfFreedom(const Budget& budget)
{
    const double u = combined_dB(budget);
    double sum = 0.0; // of (u_i / u)^4 / nu_i
    for (const auto& term : budget)
        if (u > 0.0 && std::isfinite(term.degreesOfFreedom))
            sum += std::pow(term.u_dB / u, 4) / term.degreesOfFreedom;
    return sum > 0.0 ? 1.0 / sum : infiniteDegrees;
}

Budget joined(const Budget& first, const Budget& second)
{
    Budget result = first;
    for (const auto& term : second) {
        const auto same = std::find_if(result.begin(), result.end(), [&term](const BudgetTerm& other) {
            return other.name == term.name && other.obtained == term.obtained;
        });
        if (same == result.end())
            result.push_back(term);
        else if (term.u_dB > same->u_dB)
            *same = term; // counted once, and not below what either claims
    }
    return result;
}

BudgetTerm fromCertificate(std::string name, double U_dB, double k, std::string obtained)
{
    return {std::move(name), U_dB / k, infiniteDegrees, Shape::normal, std::move(obtained)};
}

BudgetTerm fromLimits(std::string name, double halfWidth_dB, std::string obtained)
{
    return {std::move(name), halfWidth_dB / std::numbers::sqrt3, infiniteDegrees, Shape::rectangular,
            std::move(obtained)};
}

BudgetTerm assumedTerm(std::string name, double u_dB)
{
    return {std::move(name), u_dB, infiniteDegrees, Shape::normal, "assumed"};
}

double roundedUp_dB(double U_dB)
{
    return roundedUpward(U_dB, 2);
}

double rounded_dB(double value_dB)
{
    return roundedHalfAway(value_dB, 2);
}

} // namespace couplet
