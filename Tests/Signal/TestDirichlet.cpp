// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Dirichlet.h"

#include "Signal/Sizes.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

namespace {

KernelValue summedDirectly(int samples, double angle)
{
    KernelValue k;
    for (int i = 0; i < samples; ++i) {
        const double n = i - 0.5 * (samples - 1);
        k.value += std::cos(angle * n);
        k.first -= n * std::sin(angle * n);
        k.second -= n * n * std::cos(angle * n);
    }
    return k;
}

// Errors are held against the largest that each can be: N, N^2/4 and N^3/12.
void checkAlike(int samples, const KernelValue& is, const KernelValue& should)
{
    const double n = samples;
    CHECK(std::abs(is.value - should.value) < 1e-9 * n);
    CHECK(std::abs(is.first - should.first) < 1e-9 * n * n / 4.0);
    CHECK(std::abs(is.second - should.second) < 1e-9 * n * n * n / 12.0);
}

} // namespace

TEST_CASE("the Dirichlet kernel and its derivatives are the sums they stand for")
{
    for (const int samples : {2, 32, 2400, 9600})
        for (const double angle : {0.0, 1e-9, 1e-6, 1.9e-2 / samples, 2.1e-2 / samples, 0.5 / samples, 1e-3, 0.1, 1.0,
                                   3.0, pi, 2.0 * pi - 1e-3, 2.0 * pi - 0.1, 2.0 * pi + 0.7}) {
            CAPTURE(samples, angle);
            checkAlike(samples, Dirichlet(samples).at(angle), summedDirectly(samples, angle));
            checkAlike(samples, Dirichlet(samples).at(-angle), summedDirectly(samples, -angle));
        }
}

TEST_CASE("angle sums give the kernel of a sum and of a difference of frequencies")
{
    const int samples = 2400;
    const Dirichlet kernel(samples);
    const HalfAngles a = kernel.anglesOf(0.13), b = kernel.anglesOf(0.0065);
    checkAlike(samples, kernel.at(sumOf(a, b)), summedDirectly(samples, 0.1365));
    checkAlike(samples, kernel.at(differenceOf(a, b)), summedDirectly(samples, 0.1235));
    checkAlike(samples, kernel.at(differenceOf(b, a)), summedDirectly(samples, -0.1235));
    checkAlike(samples, kernel.at(differenceOf(a, a)), summedDirectly(samples, 0.0));
}
