// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <numeric>

// Purpose: where a rising function crosses zero, to the last bit that doubles hold.
// Ranges:  f(low) <= 0 <= f(high), low <= high, both finite.
// Thread:  any.
namespace couplet {

template <class Rising> double bisected(const Rising& f, double low, double high)
{
    for (;;) {
        const double middle = std::midpoint(low, high);
        if (middle <= low || middle >= high)
            return middle;
        (f(middle) < 0.0 ? low : high) = middle;
    }
}

} // namespace couplet
