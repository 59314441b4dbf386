// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Kernels.h"
#include "Signal/LineSystem.h"
#include "Simulation/Random.h"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <vector>

using namespace couplet;

namespace {

using Matrix = std::vector<std::vector<double>>;

// B B^T + I: positive definite, and well conditioned.
Matrix positiveDefinite(std::size_t n, Xoshiro256& random)
{
    Matrix b(n, std::vector<double>(n)), a = b;
    for (auto& row : b)
        for (double& value : row)
            value = random.nextNormal();
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j) {
            a[i][j] = i == j ? 1.0 : 0.0;
            for (std::size_t k = 0; k < n; ++k)
                a[i][j] += b[i][k] * b[j][k];
        }
    return a;
}

void load(Cholesky& into, const Matrix& a)
{
    const int n = static_cast<int>(a.size());
    into.resize(n);
    for (int i = 0; i < n; ++i)
        for (int j = i; j < n; ++j)
            into.at(i, j) = a[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)];
}

} // namespace

TEST_CASE("a factored system of any size gives back what it was made from, whatever was factored before")
{
    SplitMix64 seeds(31);
    Xoshiro256 random(seeds);
    Cholesky system;
    for (const std::size_t n : {24u, 1u, 23u, 2u, 3u, 4u, 5u, 7u, 8u, 12u, 13u, 22u, 24u, 6u}) {
        CAPTURE(n);
        const Matrix a = positiveDefinite(n, random);
        std::vector<double> truth(n), x(n, 0.0);
        for (double& value : truth)
            value = random.nextNormal();
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j)
                x[i] += a[i][j] * truth[j];
        load(system, a);
        REQUIRE(system.factor());
        system.solve(x.data());
        for (std::size_t i = 0; i < n; ++i)
            CHECK(x[i] == Approx(truth[i]).margin(1e-11));
    }
}

TEST_CASE("a matrix that is not positive definite has no factor")
{
    SplitMix64 seeds(32);
    Xoshiro256 random(seeds);
    Cholesky system;
    for (const std::size_t n : {1u, 4u, 5u, 24u})
        for (const double bad : {0.0, -1.0, std::nan("")}) {
            CAPTURE(n, bad);
            Matrix a = positiveDefinite(n, random);
            a[n - 1][n - 1] = bad;
            load(system, a);
            CHECK_FALSE(system.factor());
        }
}

TEST_CASE("a system is factored and solved to the same bits with wide registers and without")
{
    SplitMix64 seeds(33);
    Xoshiro256 random(seeds);
    for (const std::size_t n : {4u, 7u, 23u, 24u}) {
        const Matrix a = positiveDefinite(n, random);
        struct
        {
            alignas(vectorBytes) std::array<double, mostUnknowns * mostUnknowns> rows{};
            alignas(vectorBytes) std::array<double, mostUnknowns> x{};
        } one, other;
        for (std::size_t i = 0; i < n; ++i) {
            one.x[i] = random.nextNormal();
            for (std::size_t j = i; j < n; ++j)
                one.rows[i * mostUnknowns + j] = a[i][j];
        }
        other = one;
        REQUIRE(kernels().factor(one.rows.data(), n));
        REQUIRE(plainKernels().factor(other.rows.data(), n));
        kernels().substitute(one.rows.data(), n, one.x.data());
        plainKernels().substitute(other.rows.data(), n, other.x.data());
        CHECK(one.rows == other.rows);
        CHECK(one.x == other.x);
    }
}
