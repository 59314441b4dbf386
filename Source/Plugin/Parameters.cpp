// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Parameters.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <string>

namespace couplet {
namespace {

using Spacing = ParameterLine::Spacing;

// Five significant figures: finer than any voltmeter's reading, coarser than what a host's 0 to 1 in single precision
// blurs, so that a value that went through it is the same value.
float fiveFigures(double value)
{
    if (!(value > 0.0))
        return 0.0f;
    const double unit = std::pow(10.0, std::floor(std::log10(value)) - 4.0);
    return static_cast<float>(unit < 1.0 ? std::round(value / unit) / std::round(1.0 / unit)
                                         : std::round(value / unit) * unit);
}

double shortestDecimal(float value)
{
    char text[32];
    const auto end = std::to_chars(text, text + sizeof text, value).ptr;
    double exact = 0.0;
    std::from_chars(text, end, exact);
    return exact;
}

juce::NormalisableRange<float> rangeOf(const ParameterLine& line)
{
    const auto low = static_cast<float>(line.low), high = static_cast<float>(line.high);
    if (line.spacing == Spacing::whole)
        return {low, high, 1.0f};
    // The fourth power gives small voltages and impedances their share of a slider's way.
    return {low, high,
            [](float from, float to, float share) {
                const double square = static_cast<double>(share) * share;
                return static_cast<float>(from + (to - from) * square * square);
            },
            [](float from, float to, float value) {
                return static_cast<float>(std::sqrt(std::sqrt((static_cast<double>(value) - from) / (to - from))));
            },
            [](float from, float to, float value) { return juce::jlimit(from, to, fiveFigures(value)); }};
}

std::string textOf(const ParameterLine& line, float value)
{
    if (line.spacing == Spacing::quantity) {
        if (value == 0.0f && line.ofZero != nullptr)
            return line.ofZero;
        return fmt::format("{} {}", shortestDecimal(value), line.unit);
    }
    const int whole = juce::roundToInt(value);
    if (!line.names.empty())
        return line.names[static_cast<std::size_t>(whole - juce::roundToInt(line.low))];
    return whole == 0 ? "by hand" : fmt::format("slot {}", whole);
}

// A name, a number (also behind "slot"), or a number with its unit; what is no value at all leaves the default.
float valueOf(const ParameterLine& line, const juce::String& typed)
{
    const juce::String text = typed.trim();
    if (line.ofZero != nullptr && text.equalsIgnoreCase(line.ofZero))
        return 0.0f;
    for (double whole = line.low; line.spacing == Spacing::whole && whole <= line.high; whole += 1.0)
        if (text.equalsIgnoreCase(juce::String::fromUTF8(textOf(line, static_cast<float>(whole)).c_str())))
            return static_cast<float>(whole);
    const bool isVoltage = line.unit == std::string_view("mV") || line.unit == std::string_view("V");
    if (isVoltage)
        if (const auto volts = parseVolts(text.toStdString()))
            return static_cast<float>(volts->value * (line.unit == std::string_view("mV") ? 1000.0 : 1.0));
    if (line.unit == std::string_view("ohm"))
        if (const auto ohms = parseSourceOhms(text.toStdString()))
            return static_cast<float>(ohms->value);
    const auto digits = text.fromFirstOccurrenceOf("slot", false, true).trim();
    const auto number = digits.isEmpty() ? text : digits;
    return number.containsAnyOf("0123456789") ? number.getFloatValue() : static_cast<float>(line.initial);
}

} // namespace

Parameters::Parameters(juce::AudioProcessor& processor)
{
    jassert(parameterLines().size() == parameterCount);
    for (std::size_t i = 0; i < parameterCount; ++i) {
        const ParameterLine& line = parameterLines()[i];
        const auto attributes =
            juce::AudioParameterFloatAttributes()
                .withStringFromValueFunction(
                    [&line](float value, int) { return juce::String::fromUTF8(textOf(line, value).c_str()); })
                .withValueFromStringFunction([&line](const juce::String& text) { return valueOf(line, text); });
        auto parameter = std::make_unique<juce::AudioParameterFloat>(
            juce::ParameterID{line.id, 1}, line.name, rangeOf(line), static_cast<float>(line.initial), attributes);
        all[i] = parameter.get();
        processor.addParameter(parameter.release());
    }
}

double Parameters::exact(ParameterId id) const
{
    return shortestDecimal(plain(id));
}

void Parameters::set(ParameterId id, double plainValue)
{
    juce::AudioProcessorParameter& parameter = at(id);
    const float share = at(id).convertTo0to1(static_cast<float>(plainValue));
    if (share != parameter.getValue())
        parameter.setValueNotifyingHost(share);
}

void Parameters::setByHand(ParameterId id, double plainValue)
{
    at(id).beginChangeGesture();
    set(id, plainValue);
    at(id).endChangeGesture();
}

ParameterValues Parameters::values() const
{
    ParameterValues result{};
    for (std::size_t i = 0; i < parameterCount; ++i)
        result[i] = exact(static_cast<ParameterId>(i));
    return result;
}

void Parameters::restore(const ParameterValues& plainValues)
{
    for (std::size_t i = 0; i < parameterCount; ++i)
        set(static_cast<ParameterId>(i), plainValues[i]);
}

} // namespace couplet
