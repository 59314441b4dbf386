// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

// Purpose: a figure that carries how it came about: the addends of its sum and the budget of its uncertainty.
//          What is made of a budget (expanded uncertainty, verdicts) is Metrology's.
// Units:   dB throughout; standard uncertainties u, not expanded.
// Source:  JCGM 100:2008 (terms), 4.2 and 4.3 (type A and B).
// Thread:  any but audio (allocates).
namespace couplet {

enum class Shape { normal, rectangular };

inline constexpr double infiniteDegrees = std::numeric_limits<double>::infinity();

// One source of uncertainty.
struct BudgetTerm
{
    std::string name;                          // for a person: "seating it again"
    double u_dB = 0.0;                         // standard uncertainty, >= 0
    double degreesOfFreedom = infiniteDegrees; // >= 1; infinite when taken as known
    Shape shape = Shape::normal;               // of the distribution it was drawn from
    std::string obtained;                      // how: "certificate", "assumed", "5 insertions", ...

    bool operator==(const BudgetTerm&) const = default;
};

using Budget = std::vector<BudgetTerm>;

// One line of a sum, as it is printed: "offset of this coupler  +121.97".
struct Addend
{
    std::string name;
    double value_dB = 0.0;

    bool operator==(const Addend&) const = default;
};

// A level with the sum it comes from and, when everything needed was given, its budget. `missing` says in words
// what has to be supplied before the figure can have an uncertainty; it is empty exactly when `budget` is complete.
struct Figure
{
    double level_dB = 0.0;
    std::vector<Addend> addends;
    Budget budget;
    std::vector<std::string> missing;

    bool hasUncertainty() const { return missing.empty(); }
};

} // namespace couplet
