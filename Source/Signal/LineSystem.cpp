// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/LineSystem.h"

#include "Signal/Kernels.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr auto idx(int i)
{
    return static_cast<std::size_t>(i);
}

constexpr int side = 4; // of a block
static_assert(mostUnknowns % side == 0);

} // namespace

// What stands beyond the matrix is nought, so that the kernels may work on whole blocks.
bool Cholesky::factor()
{
    const int whole = (size + side - 1) / side * side;
    for (int r = 0; r < whole; ++r)
        std::fill(&at(r, 0) + std::max(r, size), &at(r, 0) + whole, 0.0);
    return kernels().factor(rows.data(), idx(size));
}

void Cholesky::solve(double* x) const
{
    alignas(vectorBytes) std::array<double, mostUnknowns> y{};
    std::copy(x, x + size, y.begin());
    kernels().substitute(rows.data(), idx(size), y.data());
    std::copy(y.begin(), y.begin() + size, x);
}

double dot(const EvenOdd& a, const EvenOdd& b, int lines)
{
    double sum = a.even[0] * b.even[0];
    for (int i = 0; i < lines; ++i)
        sum += a.even[idx(i + 1)] * b.even[idx(i + 1)] + a.odd[idx(i)] * b.odd[idx(i)];
    return sum;
}

bool LineSystem::build(const LineChoice& choice, double samples)
{
    chosen = &choice;
    kernel = Dirichlet(samples);
    evenFactor.resize(choice.count + 1);
    oddFactor.resize(choice.count);
    const auto& angles = choice.angles;

    // Only D itself is needed here: sin(N a/2) / sin(a/2) from the angle sums, N on the diagonal.
    evenFactor.at(0, 0) = samples;
    for (int i = 0; i < choice.count; ++i) {
        const HalfAngles& a = angles[idx(i)];
        evenFactor.at(0, i + 1) = a.sineN / a.sine;
        for (int j = 0; j <= i; ++j) {
            const HalfAngles& b = angles[idx(j)];
            const double sum = (a.sineN * b.cosineN + a.cosineN * b.sineN) / (a.sine * b.cosine + a.cosine * b.sine);
            const double difference =
                i == j ? samples
                       : (a.sineN * b.cosineN - a.cosineN * b.sineN) / (a.sine * b.cosine - a.cosine * b.sine);
            evenFactor.at(j + 1, i + 1) = 0.5 * (difference + sum);
            oddFactor.at(j, i) = 0.5 * (difference - sum);
        }
    }
    return evenFactor.factor() && oddFactor.factor();
}

void LineSystem::solve(EvenOdd& x) const
{
    evenFactor.solve(x.even.data());
    oddFactor.solve(x.odd.data());
}

// d(p cos wn + q sin wn)/dw = -p n sin(wn) + q n cos(wn), an odd-times-odd and an even-times-odd product:
//   <n sin wn, cos vn> = -(D'(w+v) + D'(w-v)) / 2        <n cos wn, sin vn> = -(D'(w+v) - D'(w-v)) / 2
EvenOdd LineSystem::derivative(const EvenOdd& at) const
{
    EvenOdd u;
    const auto& angles = chosen->angles;
    const double p = at.even[1], q = at.odd[0];
    u.even[0] = p * kernel.at(angles[0]).first;
    for (int l = 0; l < chosen->count; ++l) {
        const double plus = kernel.at(sumOf(angles[0], angles[idx(l)])).first;
        const double minus = kernel.at(differenceOf(angles[0], angles[idx(l)])).first;
        u.even[idx(l + 1)] = 0.5 * p * (plus + minus);
        u.odd[idx(l)] = -0.5 * q * (plus - minus);
    }
    return u;
}

//   <n sin, n sin> = (D''(2w) - D''(0)) / 2              <n cos, n cos> = -(D''(2w) + D''(0)) / 2
double LineSystem::derivativeSquare(const EvenOdd& at) const
{
    const HalfAngles& tone = chosen->angles[0];
    const double plus = kernel.at(sumOf(tone, tone)).second;
    const double minus = kernel.at(0.0).second;
    const double p = at.even[1], q = at.odd[0];
    return 0.5 * (p * p * (plus - minus) - q * q * (plus + minus));
}

} // namespace couplet
