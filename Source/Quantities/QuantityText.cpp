// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <cmath>

namespace couplet {
namespace {

constexpr std::string_view minusSign = "\u2212";

double powerOfTen(int decimals)
{
    return std::pow(10.0, decimals);
}

std::string fixedText(double value, int decimals, Minus minus)
{
    if (!std::isfinite(value))
        return "no value";
    const double rounded = roundedHalfAway(value, decimals);
    std::string sign;
    if (rounded < 0.0)
        sign = minus == Minus::sign ? minusSign : "-";
    return sign + fmt::format("{:.{}f}", std::abs(rounded), decimals);
}

} // namespace

double roundedHalfAway(double value, int decimals)
{
    constexpr double nudge = 1e-9; // of the last digit: far above the noise of a sum, far below what anyone measures
    const double scale = powerOfTen(decimals);
    const double scaled = value * scale;
    return std::round(scaled + std::copysign(nudge, scaled)) / scale + 0.0; // + 0.0 turns -0.0 into 0.0
}

double roundedUpward(double value, int decimals)
{
    // JCGM 100:2008 7.2.6 (from memory): 10.47 is rounded up to 11, but 28.05 down to 28.
    constexpr double forgiven = 0.05; // of the last digit
    const double scale = powerOfTen(decimals);
    const double up = std::ceil(value * scale - forgiven);
    return (value > 0.0 && up <= 0.0 ? 1.0 : up) / scale + 0.0;
}

std::string levelText(double level_dB, Minus minus)
{
    return fixedText(level_dB, 2, minus);
}

std::string signedLevelText(double level_dB, Minus minus)
{
    return signedText(level_dB, 2, minus);
}

std::string decimalText(double value, int decimals, Minus minus)
{
    return fixedText(value, decimals, minus);
}

std::string signedText(double value, int decimals, Minus minus)
{
    const auto text = fixedText(value, decimals, minus);
    return std::isfinite(value) && roundedHalfAway(value, decimals) > 0.0 ? "+" + text : text;
}

std::string uncertaintyText(double U_dB)
{
    if (!std::isfinite(U_dB))
        return "no value";
    return fmt::format("\u00b1{:.2f}", roundedUpward(U_dB, 2));
}

std::string voltageText(Volts voltage)
{
    // Each bound is where the next smaller unit would round to 1000.0: 999.96 mV reads 1.00 V.
    const double size = std::abs(voltage.value);
    if (size >= 0.99995 || !std::isfinite(size))
        return fixedText(voltage.value, 2, Minus::sign) + " V";
    const bool millivolts = size >= 0.99995e-3;
    const double shown = voltage.value * (millivolts ? 1e3 : 1e6);
    const int decimals = std::abs(shown) >= 9.995 ? 1 : 2;
    return fixedText(shown, decimals, Minus::sign) + (millivolts ? " mV" : " \u00b5V");
}

std::string impedanceText(Ohms impedance)
{
    if (std::abs(impedance.value) >= 1000.0)
        return fmt::format("{:.4g} k\u03a9", impedance.value / 1000.0);
    return fmt::format("{:.4g} \u03a9", impedance.value);
}

std::string frequencyText(Hertz frequency)
{
    return fixedText(frequency.value, 2, Minus::sign) + " Hz";
}

std::string nominalFrequencyText(Hertz frequency)
{
    if (frequency.value >= 999.5)
        return fmt::format("{:.3g} kHz", frequency.value / 1000.0);
    return fmt::format("{:.3g} Hz", frequency.value);
}

std::string quoted(std::string_view text)
{
    constexpr std::size_t longest = 60;
    const bool shortened = text.size() > longest;
    if (shortened) {
        text = text.substr(0, longest);
        // Not in the middle of a character: its continuation bytes go, and then its first.
        while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xc0) == 0x80)
            text.remove_suffix(1);
        if (!text.empty() && static_cast<unsigned char>(text.back()) >= 0xc0)
            text.remove_suffix(1);
    }
    std::string result = "'";
    for (const char c : text)
        result += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
    return result + (shortened ? "\u2026'" : "'");
}

std::string_view trimmed(std::string_view text)
{
    using namespace std::string_view_literals;
    constexpr std::string_view spaces[] = {" "sv, "\t"sv, "\r"sv, "\n"sv, "\u00a0"sv, "\u2009"sv, "\u202f"sv};
    for (bool again = true; again;) {
        again = false;
        for (const auto space : spaces) {
            if (text.starts_with(space)) {
                text.remove_prefix(space.size());
                again = true;
            }
            if (text.ends_with(space)) {
                text.remove_suffix(space.size());
                again = true;
            }
        }
    }
    return text;
}

} // namespace couplet
