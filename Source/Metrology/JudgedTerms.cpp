// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/JudgedTerms.h"

#include <utility>

namespace couplet {

std::string howJudged(bool given)
{
    return given ? "set by you" : "assumed";
}

BudgetTerm judgedTerm(std::string name, std::optional<double> given_dB, double assumed_dB)
{
    return {std::move(name), given_dB.value_or(assumed_dB), infiniteDegrees, Shape::normal,
            howJudged(given_dB.has_value())};
}

} // namespace couplet
