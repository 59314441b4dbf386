// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Simulation/Random.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <initializer_list>

// Purpose: the draws of the fuzzer: everything follows from one seed.
namespace couplet::fuzz {

class Chance
{
public:
    explicit Chance(std::uint64_t seed) : seeds(seed), random(seeds) {}

    std::uint64_t bits() { return random.next(); }
    double share() { return static_cast<double>(bits() >> 11) * 0x1p-53; } // 0 to 1, 1 left out
    double between(double low, double high) { return low + (high - low) * share(); }
    double evenInRatio(double low, double high) { return low * std::pow(high / low, share()); }
    int whole(int low, int high) { return low + static_cast<int>(share() * (high - low + 1)); }
    bool once(int in) { return whole(1, in) == 1; }
    double normal() { return random.nextNormal(); }
    template <class T> T oneOf(std::initializer_list<T> all)
    {
        return all.begin()[static_cast<std::size_t>(whole(0, static_cast<int>(all.size()) - 1))];
    }

private:
    SplitMix64 seeds;
    Xoshiro256 random;
};

} // namespace couplet::fuzz
