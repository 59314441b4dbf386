// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/ScaledErfc.h"

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace couplet {
namespace {

// From here on seven terms of the series are within 1e-8.
constexpr double seriesFrom = 6.0;

double series(double z)
{
    const double step = 0.5 / (z * z);
    double term = 1.0, sum = 1.0;
    for (int k = 1; k <= 7; ++k) {
        term *= -(2.0 * k - 1.0) * step;
        sum += term;
    }
    return sum * std::numbers::inv_sqrtpi / z;
}

// Over s = 1 / (1 + z / 2), which runs from 1 down to 0 as z runs to infinity, scaledErfc / s hardly bends.
constexpr std::size_t cells = 4096;

using Table = std::array<double, cells + 2>;

Table madeTable()
{
    Table table{};
    table[0] = 0.5 * std::numbers::inv_sqrtpi; // its limit
    for (std::size_t i = 1; i <= cells; ++i) {
        const double s = static_cast<double>(i) / cells;
        table[i] = scaledErfc(2.0 * (1.0 / s - 1.0)) / s;
    }
    table[cells + 1] = table[cells];
    return table;
}

} // namespace

double scaledErfc(double z)
{
    if (std::isinf(z))
        return 0.0;
    return z < seriesFrom ? std::exp(z * z) * std::erfc(z) : series(z);
}

double scaledErfcQuick(double z)
{
    static const Table table = madeTable();
    const double s = 1.0 / (1.0 + 0.5 * z);
    const double place = s * cells;
    const auto cell = static_cast<std::size_t>(place);
    const double part = place - static_cast<double>(cell);
    return s * (table[cell] + part * (table[cell + 1] - table[cell]));
}

double logUpperTail(double z)
{
    if (z < 0.0)
        return std::log1p(-0.5 * std::erfc(-z / std::numbers::sqrt2));
    return -0.5 * z * z + std::log(0.5 * scaledErfc(z / std::numbers::sqrt2));
}

} // namespace couplet
