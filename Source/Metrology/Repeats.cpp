// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Repeats.h"

#include <cmath>
#include <numeric>

namespace couplet {

double Repeats::deviationOfMean() const
{
    return deviation / std::sqrt(static_cast<double>(count));
}

std::optional<Repeats> repeatsOf(const std::vector<double>& values)
{
    if (values.size() < 2)
        return std::nullopt;
    const auto count = static_cast<double>(values.size());
    // Sums of differences from the first value keep the digits that sums of large values would lose.
    const double first = values.front();
    double sum = 0.0;
    for (const double value : values)
        sum += value - first;
    const double meanAboveFirst = sum / count;
    double squares = 0.0;
    for (const double value : values) {
        const double deviation = (value - first) - meanAboveFirst;
        squares += deviation * deviation;
    }
    return Repeats{values.size(), first + meanAboveFirst, std::sqrt(squares / (count - 1.0))};
}

std::optional<BudgetTerm> fromRepeats(std::string name, const std::vector<double>& readings_dB, std::string obtained)
{
    const auto repeats = repeatsOf(readings_dB);
    if (!repeats)
        return std::nullopt;
    return BudgetTerm{std::move(name), repeats->deviationOfMean(), repeats->degreesOfFreedom(), Shape::normal,
                      std::move(obtained)};
}

} // namespace couplet
