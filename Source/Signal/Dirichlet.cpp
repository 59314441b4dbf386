// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Dirichlet.h"

#include <cmath>

namespace couplet {

Dirichlet::Dirichlet(double samples)
    : n(samples), squares(n * (n * n - 1.0) / 12.0), fourths(n * (n * n - 1.0) * (3.0 * n * n - 7.0) / 240.0)
{
}

HalfAngles Dirichlet::anglesOf(double angle) const
{
    return {angle, std::sin(0.5 * angle), std::cos(0.5 * angle), std::sin(0.5 * n * angle), std::cos(0.5 * n * angle)};
}

KernelValue Dirichlet::at(const HalfAngles& a) const
{
    // Near zero the closed form is a difference of large numbers; two terms of the series are exact to 1e-10 there.
    if (std::abs(a.angle) * n < 2e-2) {
        const double t = a.angle;
        return {n - 0.5 * squares * t * t, -squares * t + fourths * t * t * t / 6.0, -squares + 0.5 * fourths * t * t};
    }
    const double inverse = 1.0 / a.sine;
    KernelValue k;
    k.value = a.sineN * inverse;
    k.first = 0.5 * (n * a.cosineN - a.cosine * k.value) * inverse;
    k.second = 0.5 * (-0.5 * n * n * a.sineN + 0.5 * a.sine * k.value - a.cosine * k.first) * inverse -
               0.5 * k.first * a.cosine * inverse;
    return k;
}

HalfAngles sumOf(const HalfAngles& a, const HalfAngles& b)
{
    return {a.angle + b.angle, a.sine * b.cosine + a.cosine * b.sine, a.cosine * b.cosine - a.sine * b.sine,
            a.sineN * b.cosineN + a.cosineN * b.sineN, a.cosineN * b.cosineN - a.sineN * b.sineN};
}

HalfAngles differenceOf(const HalfAngles& a, const HalfAngles& b)
{
    return {a.angle - b.angle, a.sine * b.cosine - a.cosine * b.sine, a.cosine * b.cosine + a.sine * b.sine,
            a.sineN * b.cosineN - a.cosineN * b.sineN, a.cosineN * b.cosineN + a.sineN * b.sineN};
}

} // namespace couplet
