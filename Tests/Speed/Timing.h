// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <chrono>

// Purpose: how long something takes. The least of several runs: a machine that others use as well only ever adds.
namespace couplet::speed {

inline constexpr int runs = 25;

template <class Work> double leastSeconds(Work&& work)
{
    double least = 1e9;
    for (int run = 0; run < runs; ++run) {
        const auto start = std::chrono::steady_clock::now();
        work();
        least = std::min(least, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
    }
    return least;
}

} // namespace couplet::speed
