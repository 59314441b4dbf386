// SPDX-License-Identifier: GPL-3.0-or-later
#include "Simulation/Random.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

TEST_CASE("the generator gives the numbers its authors' code gives")
{
    // From state 1, 2, 3, 4 (xoshiro256++) and seed 1234567 (SplitMix64): vectors in common use among ports
    // of the reference code, from memory.
    Xoshiro256 random(std::array<std::uint64_t, 4>{1, 2, 3, 4});
    for (const std::uint64_t expected : std::initializer_list<std::uint64_t>{
             41943041u, 58720359u, 3588806011781223u, 3591011842654386u, 9228616714210784205u, 9973669472204895162u})
        CHECK(random.next() == expected);

    SplitMix64 seeds(1234567);
    for (const std::uint64_t expected :
         std::initializer_list<std::uint64_t>{6457827717110365317u, 3203168211198807973u, 9817491932198370423u})
        CHECK(seeds.next() == expected);
}

TEST_CASE("normal numbers have mean 0, deviation 1 and no memory")
{
    SplitMix64 seeds(3);
    Xoshiro256 random(seeds);
    constexpr int count = 400000;
    double sum = 0.0, squares = 0.0, fourth = 0.0, neighbours = 0.0, before = 0.0;
    for (int n = 0; n < count; ++n) {
        const double v = random.nextNormal();
        sum += v;
        squares += v * v;
        fourth += v * v * v * v;
        neighbours += v * before;
        before = v;
    }
    // Five standard errors each; the fourth moment of a sum of eight uniforms is 3 - 1.2 / 8.
    const double error = 5.0 / std::sqrt(static_cast<double>(count));
    CHECK(sum / count == Approx(0.0).margin(error));
    CHECK(squares / count == Approx(1.0).margin(error * std::sqrt(2.0)));
    CHECK(neighbours / count == Approx(0.0).margin(error));
    CHECK(fourth / count == Approx(2.85).margin(error * std::sqrt(96.0)));
}
