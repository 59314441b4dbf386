// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Budget.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

// Purpose: mean and scatter of repeated readings.
// Source:  JCGM 100:2008 4.2 (type A).
// Errors:  fewer than two readings have no scatter: absent.
// Thread:  any but audio.
namespace couplet {

struct Repeats
{
    std::size_t count = 0;
    double mean = 0.0;
    double deviation = 0.0; // s, with count - 1

    double deviationOfMean() const;
    double degreesOfFreedom() const { return static_cast<double>(count) - 1.0; }
};
std::optional<Repeats> repeatsOf(const std::vector<double>&);

// The mean's term in a budget: u = s / sqrt(n) with n - 1 degrees of freedom.
std::optional<BudgetTerm> fromRepeats(std::string name, const std::vector<double>& readings_dB, std::string obtained);

} // namespace couplet
