// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Difference.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

Verdict verdictFor(double D_dB, double U_dB, double largestU_dB)
{
    if (std::abs(D_dB) > U_dB)
        return Verdict::differs;
    return U_dB <= largestU_dB ? Verdict::agrees : Verdict::tooUncertain;
}

std::string largestTerm(const Budget& budget)
{
    const auto largest = std::max_element(budget.begin(), budget.end(),
                                          [](const BudgetTerm& a, const BudgetTerm& b) { return a.u_dB < b.u_dB; });
    return largest == budget.end() ? std::string() : largest->name;
}

} // namespace

Difference compare(const Figure& measured, const Figure& expected, double largestU_dB, const Figure& between)
{
    Difference result;
    result.D_dB = measured.level_dB - expected.level_dB;
    result.between = between.budget;
    if (!measured.hasUncertainty() || !expected.hasUncertainty() || !between.hasUncertainty() ||
        !std::isfinite(result.D_dB))
        return result;
    const Budget budget = joined(joined(measured.budget, expected.budget), between.budget);
    const Expanded expanded = expand(budget);
    if (!(expanded.U_dB > 0.0)) // two figures without any budget: nothing was claimed that could be judged
        return result;
    result.expanded = expanded;
    result.enNumber = std::abs(result.D_dB) / expanded.U_dB;
    result.verdict = verdictFor(result.D_dB, expanded.U_dB, largestU_dB);
    if (result.verdict == Verdict::tooUncertain)
        result.termToImprove = largestTerm(budget);
    return result;
}

std::string verdictText(Verdict verdict)
{
    switch (verdict) {
    case Verdict::agrees:
        return "agrees";
    case Verdict::differs:
        return "differs";
    case Verdict::tooUncertain:
        return "too uncertain to say";
    }
    return {};
}

} // namespace couplet
