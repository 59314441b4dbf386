// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/Expanded.h"

#include <optional>
#include <string>

// Purpose: does the measured level agree with the expected one? D = L - E against its own uncertainty.
// Source:  decision rule after JCGM 106:2012; E_n after ISO 13528 (from memory). The largest U that may
//          still be called agreement, 1.5 dB, is this product's default (no source).
// Units:   dB.
// Thread:  any but audio.
namespace couplet {

enum class Verdict { agrees, differs, tooUncertain };

inline constexpr double defaultLargestU_dB = 1.5;

struct Difference
{
    double D_dB = 0.0;
    std::optional<Expanded> expanded; // absent when either figure lacks an uncertainty
    std::optional<double> enNumber;   // |D| / U_D, unrounded figures
    std::optional<Verdict> verdict;   // absent with `expanded`
    std::string termToImprove;        // the largest of the budget, when too uncertain to say
    Budget between;                   // terms that are neither figure's, but stand between the two: the coupler's
};

// `between` holds such terms (its level is none), or what is missing of them.
Difference compare(const Figure& measured, const Figure& expected, double largestU_dB = defaultLargestU_dB,
                   const Figure& between = {});

// "agrees", "differs", "too uncertain to say".
std::string verdictText(Verdict);

} // namespace couplet
