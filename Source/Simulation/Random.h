// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <bit>
#include <cstdint>

// Purpose: reproducible random numbers. The standard library's distributions differ between libraries, and
//          logarithms between mathematics libraries; here whole-number arithmetic alone decides, so a seed gives the
//          same bits everywhere.
// Source:  xoshiro256++ 1.0: Blackman and Vigna, Scrambled linear pseudorandom number generators, ACM TOMS
//          47(4), 2021. Seeding by SplitMix64: Steele, Lea and Flood, Fast splittable pseudorandom number
//          generators, OOPSLA 2014.
// Thread:  any, one at a time (no allocation, no locks).
namespace couplet {

class SplitMix64
{
public:
    explicit constexpr SplitMix64(std::uint64_t seed) : state(seed) {}

    constexpr std::uint64_t next() noexcept
    {
        std::uint64_t z = (state += 0x9e3779b97f4a7c15u);
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
        return z ^ (z >> 31);
    }

private:
    std::uint64_t state;
};

class Xoshiro256
{
public:
    explicit constexpr Xoshiro256(const std::array<std::uint64_t, 4>& notAllZero) : s(notAllZero) {}
    explicit constexpr Xoshiro256(SplitMix64& seeds) : s{seeds.next(), seeds.next(), seeds.next(), seeds.next()} {}

    constexpr std::uint64_t next() noexcept
    {
        const std::uint64_t result = std::rotl(s[0] + s[3], 23) + s[0];
        const std::uint64_t t = s[1] << 17;
        s[2] ^= s[0];
        s[3] ^= s[1];
        s[1] ^= s[2];
        s[0] ^= s[3];
        s[2] ^= t;
        s[3] = std::rotl(s[3], 45);
        return result;
    }

    // Mean 0, standard deviation 1, near normal: eight 16-bit numbers summed (Irwin-Hall), tails end at 4.9.
    constexpr double nextNormal() noexcept
    {
        std::int64_t sum = 0;
        for (int draw = 0; draw < 2; ++draw)
            for (std::uint64_t bits = next(), part = 0; part < 4; ++part, bits >>= 16)
                sum += static_cast<std::int64_t>(bits & 0xffffu);
        // Each part has mean 32767.5 and variance (2^32 - 1) / 12; the root of eight times that is
        constexpr double deviation = 53509.91992145008;
        return (static_cast<double>(sum) - 8 * 32767.5) / deviation;
    }

private:
    std::array<std::uint64_t, 4> s;
};

} // namespace couplet
