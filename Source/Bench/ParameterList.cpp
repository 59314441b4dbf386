// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ParameterList.h"

#include "Simulation/Scenario.h"

#include <fmt/format.h>

namespace couplet {
namespace {

std::vector<std::string> simulatedSources()
{
    std::vector<std::string> names{"off", "nothing", "calibrator"};
    for (const auto& earphone : demoScenario().earphones)
        for (const char* side : {"left", "right"})
            names.push_back(fmt::format("{}, {}", earphone.name, side));
    return names;
}

} // namespace

const std::vector<ParameterLine>& parameterLines()
{
    using enum ParameterLine::Spacing;
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
        {"largest_uncertainty", "Largest U to agree", "dB", 0.1, 10, 1.5, quantity, {}, nullptr},
        {"weighting", "Frequency weighting", "", 0, 2, 2, whole, {"A", "C", "Z"}, nullptr},
        {"time_weighting", "Time weighting", "", 0, 1, 0, whole, {"fast", "slow"}, nullptr},
        {"hold", "Hold", "", 0, 1, 0, whole, {"live", "held"}, nullptr},
        {"simulated_source", "Simulated bench", "", 0, 10, 0, whole, simulatedSources(), nullptr},
        {"simulated_drive", "Simulated drive", "mV", 0, 20000, 0, quantity, {}, "as on paper"},
        {"pass_input",
         "Pass the input on",
         "",
         0,
         2,
         1,
         whole,
         {"not at all", "guarded", "without the guard"},
         nullptr},
    };
    return list;
}

} // namespace couplet
