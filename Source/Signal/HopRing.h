// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopSums.h"

#include <algorithm>
#include <vector>

// Purpose: the newest hops, oldest overwritten.
// Thread:  audio after construction, which allocates.
namespace couplet {

class HopRing
{
public:
    explicit HopRing(int capacity) : hops(static_cast<std::size_t>(capacity)) {}

    int capacity() const { return static_cast<int>(hops.size()); }
    int size() const { return held; }

    void push(const HopSums& hop)
    {
        hops[static_cast<std::size_t>(next)] = hop;
        next = next + 1 == capacity() ? 0 : next + 1;
        held = std::min(held + 1, capacity());
    }
    void clear() { held = 0; }
    void keepNewest(int count) { held = std::min(held, count); }

    // age 0 is the newest; 0 <= age < size().
    const HopSums& operator[](int age) const
    {
        const int index = next - 1 - age;
        return hops[static_cast<std::size_t>(index < 0 ? index + capacity() : index)];
    }

private:
    std::vector<HopSums> hops;
    int next = 0;
    int held = 0;
};

} // namespace couplet
