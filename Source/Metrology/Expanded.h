// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Budget.h"

// Purpose: from a budget to an expanded uncertainty for 95.45 % coverage.
// Source:  JCGM 100:2008 5.1.2 (quadrature), G.4 (Welch-Satterthwaite), G.2 (Student's t); JCGM 101:2008 for
//          the interval where a rectangular term dominates.
// Units:   dB.
// Thread:  any but audio.
namespace couplet {

inline constexpr double coverageProbability = 0.9545;

struct Expanded
{
    double u_dB = 0.0;                         // combined standard uncertainty
    double U_dB = 0.0;                         // half-width of the symmetric 95.45 % interval; unrounded
    double coverageFactor = 2.0;               // U / u; 2 for an empty budget
    double degreesOfFreedom = infiniteDegrees; // effective, of the normal-like part
};

// Rectangular terms (the three largest) keep their shape and are convolved with a normal distribution for all the
// rest, whose width is scaled by Student's t for its effective degrees of freedom. With no rectangular term, or small
// ones, this is k u with k from Welch-Satterthwaite; where a rectangle dominates, its own narrower interval results.
Expanded expand(const Budget&);

// Two-sided Student quantile t_p(nu): P(|t| <= result) = p. nu >= 1, may be infinite; 0 < p < 1.
double studentQuantile(double p, double nu);

// Effective degrees of freedom (G.2b), not truncated; infinite when every term's are.
double effectiveDegreesOfFreedom(const Budget&);

// Two budgets of one claim, a term that stands in both (same name and same `obtained`) once.
Budget joined(const Budget&, const Budget&);

// Constructors of the common kinds of term.
BudgetTerm fromCertificate(std::string name, double U_dB, double k, std::string obtained);
BudgetTerm fromLimits(std::string name, double halfWidth_dB, std::string obtained); // rectangular
BudgetTerm assumedTerm(std::string name, double u_dB);                              // obtained "assumed"

// Rounding for a reader: U upward at 0.01 dB, values half away from zero at 0.01 dB.
double roundedUp_dB(double U_dB);
double rounded_dB(double value_dB);

} // namespace couplet
