// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

// Purpose: sums of cosines over a window of N samples taken about its centre, in closed form:
//          D(a) = sum cos(a n) = sin(N a / 2) / sin(a / 2), n = -(N-1)/2 .. (N-1)/2, and its derivatives.
//          For even N the n are half-integers: the period is 4 pi, so an angle is never wrapped.
// Units:   angles in rad/sample.
// Source:  the Dirichlet kernel; the derivatives follow by differentiating.
// Thread:  any, audio included.
namespace couplet {

struct KernelValue
{
    double value = 0.0;  // D
    double first = 0.0;  // D'
    double second = 0.0; // D''
};

// Sine and cosine of an angle's half and of N times its half: all that D needs, and what the angle sums below keep.
struct HalfAngles
{
    double angle = 0.0;
    double sine = 0.0, cosine = 1.0;   // of angle / 2
    double sineN = 0.0, cosineN = 1.0; // of N angle / 2
};

class Dirichlet
{
public:
    explicit Dirichlet(double samples);

    double samples() const { return n; }
    HalfAngles anglesOf(double angle) const;

    KernelValue at(const HalfAngles&) const;
    KernelValue at(double angle) const { return at(anglesOf(angle)); }

private:
    double n;
    double squares; // sum of n^2 = N (N^2 - 1) / 12
    double fourths; // sum of n^4
};

HalfAngles sumOf(const HalfAngles&, const HalfAngles&);
HalfAngles differenceOf(const HalfAngles&, const HalfAngles&);

} // namespace couplet
