// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/ReferenceArguments.h"

#include "Command/BenchArguments.h"
#include "Library/Names.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <utility>

namespace couplet {
namespace {

Outcome<PressureLaw> pressureLaw(const Arguments& arguments)
{
    PressureLaw law;
    const std::string* name = arguments.value("pressure-law");
    if (name == nullptr)
        return law;
    if (*name == "piston")
        law.kind = PressureLaw::Kind::piston;
    else if (*name == "none")
        law.kind = PressureLaw::Kind::none;
    else
        return Fault{
            fmt::format("--pressure-law: '{}' is no law; write piston, or none for a calibrator that regulates "
                        "itself",
                        *name)};
    return law;
}

Outcome<Calibrator> calibratorOf(const Arguments& arguments, const Folder& folder)
{
    const std::string* name = arguments.value("calibrator");
    const auto level = arguments.quantity<double>("level", parseDecibels);
    if (!level)
        return level.fault();
    if (name == nullptr && !*level)
        return Fault{"which calibrator? give --calibrator NAME, or its certified --level, for example --level 94.00dB"};
    if (name != nullptr) {
        for (const char* option : {"level-uncertainty", "class", "pressure-law"})
            if (arguments.has(option))
                return Fault{fmt::format("--{} is the calibrator's own and '{}' has it: leave it out", option, *name)};
        auto found = folder.calibrator(*name);
        return found;
    }
    Calibrator typed;
    const auto U = spread(arguments, "level-uncertainty");
    if (!U)
        return U.fault();
    const auto frequency = arguments.quantity<Hertz>("frequency", parseHertz);
    if (!frequency)
        return frequency.fault();
    const auto law = pressureLaw(arguments);
    if (!law)
        return law.fault();
    if (const std::string* given = arguments.value("class")) {
        if (*given != "1" && *given != "2")
            return Fault{fmt::format("--class: '{}' is no class of IEC 60942 here; write 1 or 2", *given)};
        typed.calibratorClass = *given == "1" ? 1 : 2;
    }
    typed.name = fmt::format("typed: {} dB", levelText(**level));
    typed.pressureLaw = *law;
    if (*frequency)
        typed.tones = {{**frequency, **level, *U}};
    else // the two that calibrators have, the nearer one is believed
        typed.tones = {{Hertz(1000.0), **level, *U}, {Hertz(250.0), **level, *U}};
    return typed;
}

Outcome<std::optional<Correction>> correctionOf(const Arguments& arguments, const std::string& calibrator,
                                                std::optional<Hertz> frequency, const std::string& now)
{
    const auto value = arguments.quantity<double>("correction", parseDecibels);
    if (!value)
        return value.fault();
    const auto U = spread(arguments, "correction-uncertainty");
    if (!U)
        return U.fault();
    if (!*value) {
        for (const char* option : {"correction-uncertainty", "correction-includes-calibrator"})
            if (arguments.has(option))
                return Fault{fmt::format("--{} needs --correction beside it", option)};
        return std::optional<Correction>{};
    }
    Correction c;
    c.value_dB = **value;
    c.U_dB = *U;
    c.includesCalibrator = arguments.has("correction-includes-calibrator");
    c.calibrator = calibrator;
    c.frequency = frequency;
    c.origin = "typed";
    c.chosenBy.emplace(); // no earphone did
    c.date = now;
    return std::optional(c);
}

// Each is expanded, as every uncertainty of a call; a coupler keeps standard ones.
Outcome<Done> addJudged(JudgedTerms& judged, const Arguments& arguments)
{
    const struct
    {
        const char* option;
        std::optional<double>* term;
    } inDecibels[] = {{"seating-uncertainty", &judged.seating_dB},     {"drift-uncertainty", &judged.drift_dB},
                      {"linearity-uncertainty", &judged.linearity_dB}, {"response-uncertainty", &judged.response_dB},
                      {"insertion-uncertainty", &judged.insertion_dB}, {"coupler-uncertainty", &judged.coupler_dB}};
    for (const auto& each : inDecibels) {
        const auto U = spread(arguments, each.option);
        if (!U)
            return U.fault();
        if (*U)
            *each.term = **U / 2.0;
    }
    const auto pressureU = arguments.quantity<Kilopascals>("pressure-uncertainty", parseKilopascals);
    if (!pressureU)
        return pressureU.fault();
    if (*pressureU && !((*pressureU)->value >= 0.0))
        return Fault{"--pressure-uncertainty must not be negative; write its size, for example 0.2kPa"};
    if (*pressureU)
        judged.barometer = 0.5 * **pressureU;
    for (const char* option : {"response-uncertainty", "insertion-uncertainty", "coupler-uncertainty"})
        if (arguments.has(option) && !arguments.has("keep"))
            return Fault{fmt::format("--{} is of the readings to come: it needs --keep beside it", option)};
    return Done{};
}

} // namespace

Outcome<ReferenceSetup> referenceSetup(const Arguments& arguments, const Folder& folder)
{
    ReferenceSetup setup;
    setup.now = timeNow();
    const std::string* name = arguments.value("coupler");
    if (name == nullptr)
        return Fault{"which coupler? give --coupler NAME; a new one is made by --keep"};
    setup.coupler.name = keptName(*name);
    const auto known = folder.coupler(*name);
    if (known)
        setup.coupler = *known;
    else if (folder.holdsCoupler(*name) || !(arguments.has("keep") || arguments.has("correction")))
        return known.fault(); // it is there and cannot be read, or is not meant to be made
    if (const auto judged = addJudged(setup.coupler.judged, arguments); !judged)
        return judged.fault();
    auto calibrator = calibratorOf(arguments, folder);
    if (!calibrator)
        return calibrator.fault();
    setup.calibrator = *std::move(calibrator);
    if (arguments.has("calibrator")) {
        const auto level = arguments.quantity<double>("level", parseDecibels);
        if (!level)
            return level.fault();
        setup.level_dB = *level;
    }
    const auto frequency = arguments.quantity<Hertz>("frequency", parseHertz);
    if (!frequency)
        return frequency.fault();
    setup.frequency = *frequency;
    const auto pressure = arguments.quantity<Kilopascals>("pressure", parseKilopascals);
    if (!pressure)
        return pressure.fault();
    setup.pressure = *pressure;
    auto correction = correctionOf(arguments, setup.calibrator.name, setup.frequency, setup.now);
    if (!correction)
        return correction.fault();
    setup.correction = *std::move(correction);
    const auto channel = microphoneChannel(arguments);
    if (!channel)
        return channel.fault();
    setup.channel = *channel;
    return setup;
}

} // namespace couplet
