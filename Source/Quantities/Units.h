// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <compare>

// Purpose: quantities that must not be taken for one another carry their unit in their type. Levels do not: a
//          level is a double whose name ends in its unit (`level_dBFS`, `offset_dB`, `pressure_dBSPL`).
// Units:   SI base units without prefix, but kPa for static pressure, as barometers read. Every voltage is RMS.
// Thread:  any.
namespace couplet {

template <class Unit> struct Quantity
{
    double value = 0.0;

    constexpr Quantity() = default;
    constexpr explicit Quantity(double v) : value(v) {}

    constexpr auto operator<=>(const Quantity&) const = default;

    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.value + b.value); }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.value - b.value); }
    friend constexpr Quantity operator*(double s, Quantity a) { return Quantity(s * a.value); }
    friend constexpr double operator/(Quantity a, Quantity b) { return a.value / b.value; }
};

using Volts = Quantity<struct VoltUnit>; // V RMS
using Ohms = Quantity<struct OhmUnit>;
using Hertz = Quantity<struct HertzUnit>;
using Kilopascals = Quantity<struct KilopascalUnit>; // static (barometric) pressure
using Percent = Quantity<struct PercentUnit>;

} // namespace couplet
