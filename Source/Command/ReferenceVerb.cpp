// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReadingJson.h"
#include "Command/BenchArguments.h"
#include "Command/BenchText.h"
#include "Command/TakeAnalysis.h"
#include "Command/Verb.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <cmath>
#include <filesystem>

namespace couplet {
namespace {

// Two levels at one frequency (94 and 114 dB) are told apart by --level.
Outcome<Calibrator> withLevel(Calibrator calibrator, double level_dB)
{
    constexpr double near_dB = 2.0;
    std::erase_if(calibrator.tones, [&](const CertifiedTone& t) { return std::abs(t.level_dB - level_dB) > near_dB; });
    if (calibrator.tones.empty())
        return Fault{fmt::format("--level: '{}' has no tone within {:g} dB of {} dB; see 'couplet library show'",
                                 calibrator.name, near_dB, levelText(level_dB))};
    return calibrator;
}

Outcome<PressureLaw> pressureLaw(const Arguments& arguments)
{
    PressureLaw law;
    const std::string* name = arguments.value("pressure-law");
    if (name == nullptr)
        return law;
    if (*name == "piston")
        law.kind = PressureLaw::Kind::piston;
    else if (*name != "none")
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
        if (!found || !*level)
            return found;
        return withLevel(*found, **level);
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
    c.date = now;
    return std::optional(c);
}

Outcome<ReferenceSetup> setupOf(const Arguments& arguments, const Folder& folder)
{
    ReferenceSetup setup;
    setup.now = timeNow();
    const std::string* name = arguments.value("coupler");
    if (name == nullptr)
        return Fault{"which coupler? give --coupler NAME; a new one is made by --keep"};
    setup.coupler.name = *name;
    const auto known = folder.coupler(*name);
    if (known)
        setup.coupler = *known;
    else if (folder.holdsCoupler(*name) || !(arguments.has("keep") || arguments.has("correction")))
        return known.fault(); // it is there and cannot be read, or is not meant to be made
    auto calibrator = calibratorOf(arguments, folder);
    if (!calibrator)
        return calibrator.fault();
    setup.calibrator = *std::move(calibrator);
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

// A reference that is not fit is told, and not kept: an offset from it would look like any other.
Outcome<Done> keep(ReferenceOutcome& reference, const ReferenceSetup& setup, const Folder& folder)
{
    if (!reference.offset || !reference.fitToUse) {
        reference.notes.push_back("not kept: the tone is not fit to use");
        return Done{};
    }
    Coupler coupler = setup.coupler;
    if (setup.correction) {
        coupler.correction = setup.correction;
        coupler.correction->frequency = reference.certified.frequency;
    }
    coupler.references.push_back(reference.kept(setup));
    return folder.save(coupler);
}

} // namespace

Outcome<Answer> runReference(const Arguments& arguments)
{
    const Folder folder = libraryOf(arguments);
    auto setup = setupOf(arguments, folder);
    if (!setup)
        return setup.fault();
    const std::string& take = arguments.words().front();
    setup->source = std::filesystem::path(take).filename().string();
    const auto analysis = analyseTake(take, setup->channel);
    if (!analysis)
        return analysis.fault();
    auto reference = takeReference(analysis->tone, *setup);
    if (!reference)
        return reference.fault();
    if (arguments.has("keep"))
        if (const auto done = keep(*reference, *setup, folder); !done)
            return done.fault();
    Answer answer;
    answer.status = reference->fitToUse ? 0 : 1;
    answer.text = arguments.has("json") ? printedJson(jsonOf(*reference), JsonLayout::line) + "\n"
                                        : textOf(*reference, setup->coupler.name);
    return answer;
}

} // namespace couplet
