// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>
#include <cstdint>

// Purpose: the chances of one simulated world, all of them from its seed, the same on every machine.
// Source:  splitmix64 (S. Vigna, public domain), from memory.
// Thread:  one.
namespace couplet::tests {

class Dice
{
public:
    // Twice, so that neighbouring seeds do not give the same numbers one after the other.
    explicit Dice(std::uint64_t seed) : state(seed) { state = bits() ^ (bits() << 1); }

    std::uint64_t bits()
    {
        std::uint64_t z = state += 0x9e3779b97f4a7c15ull;
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ull;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebull;
        return z ^ (z >> 31);
    }
    double unit() { return static_cast<double>(bits() >> 11) * 0x1p-53; } // 0 to 1
    double between(double low, double high) { return low + (high - low) * unit(); }
    double spread(double low, double high) { return low * std::pow(high / low, unit()); } // even in its logarithm
    int whole(int low, int high) { return low + static_cast<int>(unit() * (high - low + 1)); }
    bool chance(double share) { return unit() < share; }
    double sign() { return chance(0.5) ? 1.0 : -1.0; }
    template <class T, int N> T one(const T (&of)[N]) { return of[whole(0, N - 1)]; }

    // Noise of RMS 1, nearly normal: three uniform numbers.
    double noise()
    {
        const std::uint64_t b = bits();
        const auto part = [&](int shift) { return static_cast<double>((b >> shift) & 0x1fffff) * 0x1p-20 - 1.0; };
        return part(0) + part(21) + part(42);
    }

private:
    std::uint64_t state;
};

} // namespace couplet::tests
