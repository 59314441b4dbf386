// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitTyped.h"

#include "Quantities/QuantityText.h"
#include "Screens/FitForm.h"

#include <fmt/format.h>

namespace couplet {

PrintedNumber::PrintedNumber(std::optional<double> printed) : value(printed)
{
    constexpr int decimals = 4;
    constexpr std::size_t fewest = 2;
    if (!value)
        return;
    text = fmt::format("{:.{}f}", roundedHalfAway(*value, decimals) + 0.0, decimals); // never "-0"
    while (text.ends_with('0') && text.size() - text.find('.') - 1 > fewest)
        text.pop_back();
}

bool PrintedNumber::isLeft(const std::string& typed) const
{
    return value && trimmed(typed) == text;
}

Outcome<double> typedLevel(const std::string& typed, const PrintedNumber& before)
{
    return before.isLeft(typed) ? Outcome<double>(*before.value) : typedDecibels(typed);
}

Outcome<std::optional<double>> typedSpread(const std::string& typed, const PrintedNumber& before, const char* what,
                                           double most_dB)
{
    const auto text = trimmed(typed);
    if (text.empty() || before.isLeft(typed))
        return text.empty() ? std::optional<double>() : before.value;
    constexpr std::string_view plusMinus = "\u00b1";
    const auto value = typedDecibels(std::string(text.starts_with(plusMinus) ? text.substr(plusMinus.size()) : text));
    if (!value || *value < 0.0 || *value > most_dB)
        return Fault{fmt::format("{}: write 0 to {:g} dB, such as 0.15.", what, most_dB)};
    return std::optional(*value);
}

} // namespace couplet
