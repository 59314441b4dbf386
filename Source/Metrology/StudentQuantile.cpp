// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Bisection.h"
#include "Metrology/Expanded.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

// The continued fraction of the incomplete beta function, DLMF 8.17.22, by the modified Lentz method. Quick
// for x < (a + 1) / (a + b + 2).
double betaFraction(double a, double b, double x)
{
    constexpr double tiny = 1e-300;
    constexpr int enough = 10000;
    double numerator = 1.0, denominator = 0.0, fraction = 1.0;
    for (int n = 1; n <= enough; ++n) {
        const double m = std::floor(0.5 * n);
        const double coefficient = n % 2 == 0 ? m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m))
                                              : -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        denominator = 1.0 + coefficient * denominator;
        if (denominator == 0.0)
            denominator = tiny;
        denominator = 1.0 / denominator;
        numerator = 1.0 + coefficient / numerator;
        if (numerator == 0.0)
            numerator = tiny;
        const double step = numerator * denominator;
        fraction *= step;
        if (std::abs(step - 1.0) < 1e-16)
            break;
    }
    return 1.0 / fraction;
}

// I_x(a, b), the regularised incomplete beta function. `y` is 1 - x, given by the caller who knows it
// exactly.
double regularisedBeta(double a, double b, double x, double y)
{
    if (x > (a + 1.0) / (a + b + 2.0))
        return 1.0 - regularisedBeta(b, a, y, x);
    const double logOfFront = a * std::log(x) + b * std::log(y) + std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b);
    return std::exp(logOfFront) * betaFraction(a, b, x) / a;
}

// P(|t| > x) for nu degrees of freedom.
double studentTail(double x, double nu)
{
    const double square = x * x;
    return regularisedBeta(0.5 * nu, 0.5, nu / (nu + square), square / (nu + square));
}

double normalQuantile(double p)
{
    constexpr double beyondAnyDouble = 39.0; // the tail there is less than the smallest number
    return bisected([p](double z) { return (1.0 - p) - std::erfc(z / std::numbers::sqrt2); }, 0.0, beyondAnyDouble);
}

} // namespace

double studentQuantile(double p, double nu)
{
    nu = std::max(nu, 1.0);
    const double z = normalQuantile(p);
    // Expansion in 1/nu, Abramowitz and Stegun 26.7.5; from here on its third term is below 1e-11.
    constexpr double nearlyNormal = 1e4;
    if (nu > nearlyNormal) {
        const double z3 = z * z * z, z5 = z3 * z * z;
        return z + (z3 + z) / (4.0 * nu) + (5.0 * z5 + 16.0 * z3 + 3.0 * z) / (96.0 * nu * nu);
    }
    // One degree of freedom is Cauchy's distribution and the widest, infinitely many the normal and the
    // narrowest.
    const double cauchy = std::tan(0.5 * std::numbers::pi * p);
    return bisected([=](double x) { return (1.0 - p) - studentTail(x, nu); }, z, std::max(cauchy, z));
}

} // namespace couplet
