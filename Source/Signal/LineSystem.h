// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Dirichlet.h"
#include "Signal/HopSums.h"

#include <array>

// Purpose: the normal equations of x[n] = c + sum p_k cos(w_k n) + q_k sin(w_k n) over a window about its centre.
//          Cosines and the constant are even, sines odd, so they part into two systems of half the size.
// Thread:  audio (no allocation, no locks).
namespace couplet {

// A symmetric positive definite matrix of up to 24 x 24, factored in place.
class Cholesky
{
public:
    void resize(int n) { size = n; }
    double& at(int row, int column) { return rows[index(row, column)]; } // row <= column
    // False when the matrix is not positive definite to rounding.
    bool factor();
    void solve(double* x) const; // in place

private:
    static std::size_t index(int row, int column) { return static_cast<std::size_t>(row * mostUnknowns + column); }
    int size = 0;
    alignas(vectorBytes)
        std::array<double, static_cast<std::size_t>(mostUnknowns) * mostUnknowns> rows{}; // diagonal: 1 / u
};

// The lines that take part, in order; line[0] is the tone when it does.
struct LineChoice
{
    int count = 0;
    int tones = 0; // the first so many are tone orders, the rest mains orders
    std::array<int, lineCount> line{};
    std::array<HalfAngles, lineCount> angles{}; // for the window's kernel

    void add(int which, const HalfAngles& a)
    {
        line[static_cast<std::size_t>(count)] = which;
        angles[static_cast<std::size_t>(count)] = a;
        ++count;
    }
};

// Right side and solution: even part is the constant, then the cosines; odd part the sines.
struct EvenOdd
{
    std::array<double, mostUnknowns> even{};
    std::array<double, lineCount> odd{};
};
double dot(const EvenOdd&, const EvenOdd&, int lines);

class LineSystem
{
public:
    // Builds and factors both systems. False when they are singular.
    bool build(const LineChoice&, double samples);

    void solve(EvenOdd&) const;

    // The derivative of the first line, the tone, by its frequency at the coefficients given: its inner products with
    // every basis function, and with itself.
    EvenOdd derivative(const EvenOdd& at) const;
    double derivativeSquare(const EvenOdd& at) const;

private:
    const LineChoice* chosen = nullptr;
    Dirichlet kernel{2.0};
    Cholesky evenFactor, oddFactor;
};

} // namespace couplet
