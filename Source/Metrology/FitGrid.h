// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

// Purpose: where a density of the correction is computed: closely where something narrow stands, ever more widely
//          spaced far from everything. Integrals by the trapezoidal rule.
// Units:   dB.
// Thread:  any but audio.
namespace couplet {

// Something that the density may bend at, and over what length.
struct Feature
{
    double at_dB = 0.0, width_dB = 1.0; // width > 0
};

class FitGrid
{
public:
    // From `reach` below the lowest feature to as much above the highest. At least one feature.
    FitGrid(const std::vector<Feature>&, double reach_dB);

    const std::vector<double>& points() const { return at; } // ascending
    const std::vector<double>& weights() const { return cells; }
    std::size_t size() const { return at.size(); }

private:
    std::vector<double> at, cells;
};

// Convolves a function on a grid, given and returned as logarithms, with a normal density of deviation u.
class Widening
{
public:
    Widening(const FitGrid&, double u_dB); // u >= 0; 0 changes nothing

    std::vector<double> operator()(const std::vector<double>& logs) const;

private:
    struct Row
    {
        std::size_t first = 0, count = 0, start = 0; // of its weights
    };
    std::vector<Row> rows; // empty: changes nothing
    std::vector<double> kernel;
};

// Likewise with Student's t of three degrees of freedom and the scale u: a u that is itself known to some 40 % (JCGM 100,
// G.4.2).
class StudentWidening
{
public:
    StudentWidening(const FitGrid&, double u_dB); // u >= 0; 0 changes nothing

    std::vector<double> operator()(const std::vector<double>& logs) const;

private:
    std::vector<double> scaled, parts; // empty: changes nothing
};

// log of the sum of exp, without overflow or underflow. -infinity for an empty list.
double logSumOfExponentials(const double* logs, std::size_t count);

} // namespace couplet
