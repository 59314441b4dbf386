// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <optional>
#include <span>

namespace couplet {
namespace {

struct Spelling
{
    std::string_view unit;
    int exponent; // of ten, to the unit the quantity is kept in
};

enum class Sign { positive, notNegative, any };

// What may be written for one kind of quantity.
struct Kind
{
    std::span<const Spelling> spellings;
    std::string_view choices;
    std::string_view example;
    Sign sign;
    double largest;         // of the magnitude: beyond it there is a slip of the pen, and arithmetic would overflow
    std::string_view limit; // the same as it is written
};

// The micro sign and the Greek letter look alike, and so do the ohm sign and the capital omega.
constexpr Spelling voltSpellings[] = {{"V", 0}, {"mV", -3}, {"uV", -6}, {"\u00b5V", -6}, {"\u03bcV", -6}};
constexpr Spelling ohmSpellings[] = {{"ohm", 0},    {"mohm", -3},    {"kohm", 3},    {"Mohm", 6},
                                     {"\u03a9", 0}, {"m\u03a9", -3}, {"k\u03a9", 3}, {"M\u03a9", 6},
                                     {"\u2126", 0}, {"m\u2126", -3}, {"k\u2126", 3}, {"M\u2126", 6}};
constexpr Spelling hertzSpellings[] = {{"Hz", 0}, {"kHz", 3}};
constexpr Spelling decibelSpellings[] = {{"dB", 0}};
constexpr Spelling pascalSpellings[] = {{"kPa", 0}, {"hPa", -1}, {"mbar", -1}, {"Pa", -3}};
constexpr Spelling percentSpellings[] = {{"%", 0}};

constexpr Kind volts{voltSpellings, "uV, mV or V", "62.4mV", Sign::positive, 1e6, "1e6 V"};
constexpr Kind ohms{ohmSpellings, "mohm, ohm, kohm or Mohm", "24ohm", Sign::positive, 1e12, "1e12 ohm"};
constexpr Kind sourceOhms{ohmSpellings, "mohm, ohm, kohm or Mohm", "1ohm", Sign::notNegative, 1e12, "1e12 ohm"};
constexpr Kind hertz{hertzSpellings, "Hz or kHz", "500Hz", Sign::positive, 1e9, "1e9 Hz"};
constexpr Kind plainDecibels{decibelSpellings, "dB", "1.36dB", Sign::any, 1000.0, "1000 dB"};
constexpr Kind kilopascals{pascalSpellings, "kPa, hPa, mbar or Pa", "98.6kPa", Sign::positive, 1e6, "1e6 kPa"};
constexpr Kind percents{percentSpellings, "%", "0.5%", Sign::notNegative, 100.0, "100 %"};
constexpr Kind tolerances{percentSpellings, "%", "20%", Sign::notNegative, 100.0, "100 %"};

Fault refusal(const Kind& kind, const std::string& problem)
{
    return {fmt::format("{}; write it with {}, for example {}", problem, kind.choices, kind.example)};
}

// The unit is there; the number is at fault.
Fault wrongNumber(const Kind& kind, const std::string& problem)
{
    return {fmt::format("{}; write for example {}", problem, kind.example)};
}

Fault outOfRange(const Kind& kind, const std::string& shown)
{
    return wrongNumber(kind, fmt::format("{} is out of range: at most {} is taken", shown, kind.limit));
}

bool removePrefix(std::string_view& text, std::string_view prefix)
{
    if (!text.starts_with(prefix))
        return false;
    text.remove_prefix(prefix.size());
    return true;
}

struct Number
{
    double value = 0.0;
    std::errc error{};
    std::string_view rest; // what follows it
};

Number leadingNumber(std::string_view text)
{
    const bool negative = removePrefix(text, "-") || removePrefix(text, "\u2212");
    if (!negative)
        removePrefix(text, "+");
    if (text.starts_with('-')) // from_chars would take a second sign
        return {0.0, std::errc::invalid_argument, text};
    Number number;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number.value);
    number.error = error;
    number.rest = text.substr(static_cast<std::size_t>(end - text.data()));
    if (negative)
        number.value = -number.value;
    return number;
}

// Division by a power of ten rounds once where a factor such as 0.001 would round twice: 62.4 mV is 0.0624 V.
double scaled(double value, int exponent)
{
    const double factor = std::pow(10.0, std::abs(exponent));
    return exponent < 0 ? value / factor : value * factor;
}

std::optional<int> exponentOf(std::string_view unit, const Kind& kind)
{
    for (const auto& spelling : kind.spellings)
        if (spelling.unit == unit)
            return spelling.exponent;
    return std::nullopt;
}

Outcome<double> checkedRange(double value, const Kind& kind, const std::string& shown)
{
    if (!std::isfinite(value) || std::abs(value) > kind.largest)
        return outOfRange(kind, shown);
    if (kind.sign == Sign::positive && !(value > 0.0))
        return wrongNumber(kind, shown + " must be above zero");
    if (kind.sign == Sign::notNegative && value < 0.0)
        return wrongNumber(kind, shown + " must not be negative");
    return value;
}

Outcome<double> parsed(std::string_view text, const Kind& kind)
{
    text = trimmed(text);
    const auto shown = quoted(text);
    if (text.empty())
        return refusal(kind, "nothing is written here");
    if (text.find(',') != std::string_view::npos)
        return Fault{fmt::format("{} has a comma; write a decimal point, and nothing between thousands, for example {}",
                                 shown, kind.example)};
    const auto number = leadingNumber(text);
    if (number.error == std::errc::result_out_of_range)
        return outOfRange(kind, shown);
    if (number.error != std::errc{})
        return refusal(kind, shown + " does not begin with a number");
    if (!std::isfinite(number.value))
        return refusal(kind, shown + " is not a finite number");
    const auto unit = trimmed(number.rest);
    if (unit.empty())
        return refusal(kind, shown + " has no unit");
    const auto exponent = exponentOf(unit, kind);
    if (!exponent)
        return refusal(kind, fmt::format("{} has the unknown unit {}", shown, quoted(unit)));
    return checkedRange(scaled(number.value, *exponent), kind, shown);
}

template <class Unit> Outcome<Unit> parsedAs(std::string_view text, const Kind& kind)
{
    const auto value = parsed(text, kind);
    if (!value)
        return value.fault();
    return Unit(*value);
}

} // namespace

Outcome<Volts> parseVolts(std::string_view text)
{
    return parsedAs<Volts>(text, volts);
}
Outcome<Ohms> parseOhms(std::string_view text)
{
    return parsedAs<Ohms>(text, ohms);
}
Outcome<Ohms> parseSourceOhms(std::string_view text)
{
    return parsedAs<Ohms>(text, sourceOhms);
}
Outcome<Hertz> parseHertz(std::string_view text)
{
    return parsedAs<Hertz>(text, hertz);
}
Outcome<double> parseDecibels(std::string_view text)
{
    return parsed(text, plainDecibels);
}
Outcome<Kilopascals> parseKilopascals(std::string_view text)
{
    return parsedAs<Kilopascals>(text, kilopascals);
}
Outcome<Percent> parsePercent(std::string_view text)
{
    return parsedAs<Percent>(text, percents);
}

Outcome<Percent> parseTolerance(std::string_view text)
{
    return parsedAs<Percent>(text, tolerances);
}

} // namespace couplet
