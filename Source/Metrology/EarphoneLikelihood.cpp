// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/EarphoneLikelihood.h"

#include "Metrology/ScaledErfc.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace couplet {
namespace {

double logNormal(double x, double u)
{
    return -0.5 * (x / u) * (x / u) - std::log(u * std::sqrt(2.0 * std::numbers::pi));
}

double logCauchy(double x, double halfWidth)
{
    return -std::log1p((x / halfWidth) * (x / halfWidth)) - std::log(std::numbers::pi * halfWidth);
}

// A rectangle blurred by u; without a tolerance a normal density.
double logInside(const EarphoneEvidence& e, double x)
{
    const double u = uOf(e), a = e.tolerance_dB;
    if (!(a > 0.0))
        return logNormal(x, u);
    const double beyondNear = logUpperTail((x - a) / u), beyondFar = logUpperTail((x + a) / u);
    return beyondNear + std::log1p(-std::exp(beyondFar - beyondNear)) - std::log(2.0 * a);
}

} // namespace

double uOf(const EarphoneEvidence& e)
{
    return std::max(e.u_dB, finestEarphoneU_dB);
}

EarphoneLogs logLikelihood(const EarphoneEvidence& e, double c_dB)
{
    const double x = std::abs(e.says_dB - c_dB), u = uOf(e);
    const double spread =
        outsideSpread * std::max(e.tolerance_dB, 2.0 * u); // its own range where no tolerance is stated
    const double inside = std::log(1.0 - outsidePrior) + logInside(e, x);
    const double outside = std::log(outsidePrior) + logCauchy(x, spread);
    const double top = std::max(inside, outside);
    return {top + std::log(std::exp(inside - top) + std::exp(outside - top)), outside};
}

} // namespace couplet
