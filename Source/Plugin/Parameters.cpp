// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Parameters.h"

#include "Quantities/QuantityText.h"
#include "Simulation/Scenario.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <string>
#include <vector>

namespace couplet {
namespace {

enum class Spacing { whole, quantity };

struct ParameterLine
{
    const char* id;
    const char* name;
    const char* unit;
    float low, high, initial;
    Spacing spacing;
    std::vector<std::string> names; // of the whole numbers from `low` on; empty: "slot 3"
    const char* ofZero;             // for a quantity: what 0 stands for; null: 0
};

std::vector<std::string> simulatedSources()
{
    std::vector<std::string> names{"off", "nothing", "calibrator"};
    for (const auto& earphone : demoScenario().earphones)
        for (const char* side : {"left", "right"})
            names.push_back(fmt::format("{}, {}", earphone.name, side));
    return names;
}

const std::vector<ParameterLine>& lines()
{
    using enum Spacing;
    static const std::vector<ParameterLine> list{
        {"coupler_slot", "Coupler slot", "", 0, 16, 0, whole, {}, nullptr},
        {"earphone_slot", "Earphone slot", "", 0, 32, 0, whole, {}, nullptr},
        {"side", "Side", "", 0, 2, 0, whole, {"none", "left", "right"}, nullptr},
        {"drive_voltage", "Drive voltage", "mV", 0, 20000, 0, quantity, {}, "none"},
        {"drive_open_circuit", "Drive is", "", 0, 1, 0, whole, {"across the earphone", "open circuit"}, nullptr},
        {"source_impedance", "Source impedance", "ohm", 0, 10000, 0, quantity, {}, nullptr},
        {"microphone_channel", "Microphone channel", "", 1, 2, 1, whole, {"1", "2"}, nullptr},
        {"second_channel",
         "Second channel",
         "",
         0,
         2,
         0,
         whole,
         {"unused", "drive", "second coupler's microphone"},
         nullptr},
        {"second_coupler_slot", "Second coupler slot", "", 0, 16, 0, whole, {}, nullptr},
        {"drive_full_scale", "Drive full scale", "V", 0, 1000, 0, quantity, {}, "not known"},
        {"meter_accuracy", "Voltmeter accuracy", "%", 0, 20, 0, quantity, {}, "not stated"},
        {"largest_uncertainty", "Largest U to agree", "dB", 0.1f, 10, 1.5f, quantity, {}, nullptr},
        {"weighting", "Frequency weighting", "", 0, 2, 2, whole, {"A", "C", "Z"}, nullptr},
        {"time_weighting", "Time weighting", "", 0, 1, 0, whole, {"fast", "slow"}, nullptr},
        {"hold", "Hold", "", 0, 1, 0, whole, {"live", "held"}, nullptr},
        {"simulated_source", "Simulated bench", "", 0, 10, 0, whole, simulatedSources(), nullptr},
        {"simulated_drive", "Simulated drive", "mV", 0, 20000, 0, quantity, {}, "as on paper"},
    };
    jassert(list.size() == parameterCount);
    return list;
}

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
    if (line.spacing == Spacing::whole)
        return {line.low, line.high, 1.0f};
    // The fourth power gives small voltages and impedances their share of a slider's way.
    return {line.low, line.high,
            [](float low, float high, float share) {
                const double square = static_cast<double>(share) * share;
                return static_cast<float>(low + (high - low) * square * square);
            },
            [](float low, float high, float value) {
                return static_cast<float>(std::sqrt(std::sqrt((static_cast<double>(value) - low) / (high - low))));
            },
            [](float low, float high, float value) { return juce::jlimit(low, high, fiveFigures(value)); }};
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
    for (float whole = line.low; line.spacing == Spacing::whole && whole <= line.high; whole += 1.0f)
        if (text.equalsIgnoreCase(juce::String::fromUTF8(textOf(line, whole).c_str())))
            return whole;
    const bool isVoltage = line.unit == std::string_view("mV") || line.unit == std::string_view("V");
    if (isVoltage)
        if (const auto volts = parseVolts(text.toStdString()))
            return static_cast<float>(volts->value * (line.unit == std::string_view("mV") ? 1000.0 : 1.0));
    if (line.unit == std::string_view("ohm"))
        if (const auto ohms = parseSourceOhms(text.toStdString()))
            return static_cast<float>(ohms->value);
    const auto digits = text.fromFirstOccurrenceOf("slot", false, true).trim();
    const auto number = digits.isEmpty() ? text : digits;
    return number.containsAnyOf("0123456789") ? number.getFloatValue() : line.initial;
}

} // namespace

Parameters::Parameters(juce::AudioProcessor& processor)
{
    for (std::size_t i = 0; i < parameterCount; ++i) {
        const ParameterLine& line = lines()[i];
        const auto attributes =
            juce::AudioParameterFloatAttributes()
                .withStringFromValueFunction(
                    [&line](float value, int) { return juce::String::fromUTF8(textOf(line, value).c_str()); })
                .withValueFromStringFunction([&line](const juce::String& text) { return valueOf(line, text); });
        auto parameter = std::make_unique<juce::AudioParameterFloat>(juce::ParameterID{line.id, 1}, line.name,
                                                                     rangeOf(line), line.initial, attributes);
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

Parameters::Line Parameters::line(std::size_t index)
{
    const ParameterLine& line = lines()[index];
    return {line.id, shortestDecimal(line.low), shortestDecimal(line.high), shortestDecimal(line.initial)};
}

} // namespace couplet
