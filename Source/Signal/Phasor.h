// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>

// Purpose: complex numbers without the NaN rules of std::complex, whose product is a library call.
// Thread:  any, audio included.
namespace couplet {

struct Phasor
{
    double re = 0.0;
    double im = 0.0;

    constexpr Phasor& operator+=(Phasor b)
    {
        re += b.re;
        im += b.im;
        return *this;
    }
    friend constexpr Phasor operator+(Phasor a, Phasor b) { return {a.re + b.re, a.im + b.im}; }
    friend constexpr Phasor operator-(Phasor a, Phasor b) { return {a.re - b.re, a.im - b.im}; }
    friend constexpr Phasor operator*(Phasor a, Phasor b)
    {
        return {a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re};
    }
    friend constexpr Phasor operator*(double s, Phasor a) { return {s * a.re, s * a.im}; }
};

constexpr Phasor conjugate(Phasor a)
{
    return {a.re, -a.im};
}
inline double magnitude(Phasor a)
{
    return std::sqrt(a.re * a.re + a.im * a.im);
}
inline Phasor unitPhasor(double angle)
{
    return {std::cos(angle), std::sin(angle)};
}

} // namespace couplet
