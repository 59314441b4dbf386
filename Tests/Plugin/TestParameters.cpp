// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Processor.h"

#include <catch2/catch.hpp>

#include <set>

using namespace couplet;

TEST_CASE("ids, order and ranges of the parameters are those that were released")
{
    struct Released
    {
        const char* id;
        double low, high, initial;
    };
    // Never change a line: sessions, automation and LV2's URIs hold them. New ones go below.
    const Released released[] = {
        {"coupler_slot", 0, 16, 0},       {"earphone_slot", 0, 32, 0},      {"side", 0, 2, 0},
        {"drive_voltage", 0, 20000, 0},   {"drive_open_circuit", 0, 1, 0},  {"source_impedance", 0, 10000, 0},
        {"microphone_channel", 1, 2, 1},  {"second_channel", 0, 2, 0},      {"second_coupler_slot", 0, 16, 0},
        {"drive_full_scale", 0, 1000, 0}, {"meter_accuracy", 0, 20, 0},     {"largest_uncertainty", 0.1, 10, 1.5},
        {"weighting", 0, 2, 2},           {"time_weighting", 0, 1, 0},      {"hold", 0, 1, 0},
        {"simulated_source", 0, 10, 0},   {"simulated_drive", 0, 20000, 0}, {"pass_input", 0, 2, 1},
    };
    REQUIRE(std::size(released) == parameterCount);
    const Processor processor;
    REQUIRE(processor.getParameters().size() == static_cast<int>(parameterCount));
    for (std::size_t i = 0; i < parameterCount; ++i) {
        const auto& line = parameterLines()[i];
        const auto* parameter =
            dynamic_cast<const juce::RangedAudioParameter*>(processor.getParameters()[static_cast<int>(i)]);
        REQUIRE(parameter != nullptr);
        CHECK(parameter->getParameterID() == released[i].id);
        CHECK(std::string(line.id) == released[i].id);
        CHECK(line.low == released[i].low);
        CHECK(line.high == released[i].high);
        CHECK(line.initial == released[i].initial);
        // a discrete one would get wrong scale points in LV2
        CHECK_FALSE(parameter->isDiscrete());
    }
}

TEST_CASE("every whole value has a text of its own, and the text gives the value back")
{
    Processor processor;
    for (std::size_t i = 0; i < parameterCount; ++i) {
        const auto& line = parameterLines()[i];
        juce::RangedAudioParameter& parameter = processor.parameters.at(static_cast<ParameterId>(i));
        if (line.high > 32.0 || parameter.getNormalisableRange().interval != 1.0f)
            continue;
        std::set<juce::String> texts;
        for (double value = line.low; value <= line.high; value += 1.0) {
            const float share = parameter.convertTo0to1(static_cast<float>(value));
            const auto text = parameter.getText(share, 64);
            CAPTURE(line.id, value, text);
            CHECK(texts.insert(text).second);
            CHECK(parameter.getValueForText(text) == share);
        }
    }
}

TEST_CASE("quantities are written with their unit and read with or without it")
{
    Processor processor;
    juce::RangedAudioParameter& drive = processor.parameters.at(ParameterId::driveVoltage);
    const auto textOf = [](juce::RangedAudioParameter& p, double v) {
        return p.getText(p.convertTo0to1(static_cast<float>(v)), 64);
    };
    const auto read = [](juce::RangedAudioParameter& p, const char* text) {
        return static_cast<double>(p.convertFrom0to1(p.getValueForText(text)));
    };
    CHECK(textOf(drive, 123.2) == "123.2 mV");
    CHECK(textOf(drive, 0.0) == "none");
    CHECK(read(drive, "123.2 mV") == Approx(123.2));
    CHECK(read(drive, "0.1232 V") == Approx(123.2));
    CHECK(read(drive, "123.2") == Approx(123.2));
    CHECK(read(drive, "none") == 0.0);
    CHECK(read(drive, "as loud as it goes") == 0.0);
    CHECK(read(processor.parameters.at(ParameterId::sourceImpedance), "1.2 kohm") == Approx(1200.0));
    CHECK(read(processor.parameters.at(ParameterId::couplerSlot), "12") == 12.0);
    CHECK(read(processor.parameters.at(ParameterId::couplerSlot), "slot 12") == 12.0);
    CHECK(read(processor.parameters.at(ParameterId::couplerSlot), "By hand") == 0.0);
    CHECK(textOf(processor.parameters.at(ParameterId::largestU), 1.5) == "1.5 dB");
}
