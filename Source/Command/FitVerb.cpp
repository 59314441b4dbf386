// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/FitJson.h"
#include "Bench/FitKeeping.h"
#include "Bench/FitWords.h"
#include "Bench/ReadingsTable.h"
#include "Command/BenchArguments.h"
#include "Command/FitText.h"
#include "Command/Verb.h"
#include "Metrology/Rating.h"
#include "Metrology/WhatIf.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

namespace couplet {
namespace {

constexpr double coverage = 2.0; // every U that is typed is 2 u

Outcome<Done> addSettings(FitSettings& settings, const Arguments& arguments)
{
    const std::pair<const char*, double*> spreads[] = {{"transfer-uncertainty", &settings.u_transfer_dB},
                                                       {"adapter-uncertainty", &settings.u_adapter_dB},
                                                       {"seating-uncertainty", &settings.u_seating_dB}};
    for (const auto& [option, u_dB] : spreads) {
        const auto U = spread(arguments, option);
        if (!U)
            return U.fault();
        if (*U)
            *u_dB = **U / coverage;
    }
    const auto U = spread(arguments, "calibrator-uncertainty");
    if (!U)
        return U.fault();
    if (*U)
        settings.u_calibrator_dB = **U / coverage;
    const auto frequency = arguments.quantity<Hertz>("frequency", parseHertz);
    if (!frequency)
        return frequency.fault();
    settings.frequency = *frequency;
    return Done{};
}

// The library's calibrator brings its name, its certificate and its frequency; answers with its level.
Outcome<std::optional<double>> addCalibrator(FitSettings& settings, const Arguments& arguments, const Folder& folder)
{
    const std::string* name = arguments.value("calibrator");
    if (name == nullptr)
        return std::optional<double>{};
    if (settings.u_calibrator_dB)
        return Fault{
            fmt::format("--calibrator-uncertainty is the calibrator's own and '{}' has it: leave it out", *name)};
    const auto calibrator = folder.calibrator(*name);
    if (!calibrator)
        return calibrator.fault();
    if (!settings.frequency && calibrator->tones.size() > 1)
        return Fault{fmt::format("'{}' plays more than one tone; say which with --frequency, for example "
                                 "--frequency 1000Hz",
                                 *name)};
    if (const auto& wanted = settings.frequency;
        wanted && !sameRatingFrequency(*wanted, calibrator->nearest(*wanted).frequency))
        return Fault{
            fmt::format("'{}' has no tone at {}, and its nearest is at {}: say with --frequency which it played", *name,
                        nominalFrequencyText(*wanted), nominalFrequencyText(calibrator->nearest(*wanted).frequency))};
    const auto& tone = settings.frequency ? calibrator->nearest(*settings.frequency) : calibrator->tones.front();
    settings.calibrator = *name;
    settings.frequency = tone.frequency;
    if (tone.U_dB)
        settings.u_calibrator_dB = *tone.U_dB / coverage;
    return std::optional<double>(tone.level_dB);
}

// A loss belongs to one calibrator and one frequency.
Outcome<Done> isForOne(const FitInput& input)
{
    const auto subject = subjectOf(input);
    if (!subject.frequency)
        return Fault{"at which frequency were the readings made? --keep needs --frequency, for example --frequency "
                     "1000Hz, or the column 'frequency_hz'"};
    if (subject.contradicts)
        return Fault{fmt::format("not all readings are of {}{}: --keep needs those of one frequency and one calibrator",
                                 nominalFrequencyText(*subject.frequency),
                                 subject.calibrator.empty() ? "" : fmt::format(" and '{}'", subject.calibrator))};
    return Done{};
}

// A correction from evidence that contradicts itself is told, and not kept: it would look like any other.
Outcome<std::vector<std::string>> kept(const Folder& folder, const Coupler& coupler, const FitInput& input,
                                       const CorrectionFit& fit)
{
    if (fit.contradictsItself())
        return std::vector<std::string>{"not kept: the evidence contradicts itself"};
    return keepCorrection(folder, coupler, correctionFrom(input, fit, timeNow()), fit);
}

JsonValue countOf(const std::optional<std::size_t>& count)
{
    return count ? JsonValue(static_cast<double>(*count)) : JsonValue{};
}

JsonObject jsonOf(const CorrectionFit& fit, const MoreReadings& more, double wantedU_dB)
{
    JsonList fittings;
    for (std::size_t i = 0; i < more.ofFitting.size(); ++i)
        fittings.push_back(JsonObject{{"name", fit.fittings[i].name}, {"more_readings", countOf(more.ofFitting[i])}});
    return {{"wanted_uncertainty_db", wantedU_dB},
            {"fittings", std::move(fittings)},
            {"through", JsonObject{{"more_readings", countOf(more.ofThrough)}}}};
}

} // namespace

Outcome<Answer> runFit(const Arguments& arguments)
{
    const Folder folder = libraryOf(arguments);
    const std::string* name = arguments.value("coupler");
    if (arguments.has("keep") && name == nullptr)
        return Fault{"--keep needs --coupler beside it: which coupler is the correction for?"};
    auto input = readReadingsTable(arguments.words().front());
    if (!input)
        return input.fault();
    if (const auto done = addSettings(input->settings, arguments); !done)
        return done.fault();
    if (!input->settings.frequency)
        input->settings.frequency = subjectOf(*input).frequency;
    const auto certified = addCalibrator(input->settings, arguments, folder);
    if (!certified)
        return certified.fault();
    if (arguments.has("keep"))
        if (const auto done = isForOne(*input); !done)
            return done.fault();
    const auto wantedU = spread(arguments, "wanted-uncertainty");
    if (!wantedU)
        return wantedU.fault();
    std::optional<Coupler> coupler;
    if (name != nullptr) {
        auto found = folder.coupler(*name);
        if (!found)
            return found.fault();
        coupler = *std::move(found);
    }
    const auto fit = fitCorrection(*input);
    if (!fit)
        return Fault{fmt::format("{}: {}", arguments.words().front(), fit.fault().sentence)};
    std::optional<MoreReadings> more;
    if (*wantedU && fit->hasUncertainty())
        more = readingsForU(fit->evidence, fit->through ? fit->through->count : 0,
                            fit->through ? fit->through->scatter_dB.value_or(0.0) : 0.0, **wantedU);
    auto words = wordsOf(*input, *fit, *certified);
    JsonObject object = jsonOf(*input, *fit);
    if (arguments.has("keep")) {
        const auto notes = kept(folder, *coupler, *input, *fit);
        if (!notes)
            return notes.fault();
        for (const auto& note : *notes) {
            words.notes.push_back(note);
            std::get<JsonList>(object.back().second.content).push_back(note);
        }
    }
    if (more)
        object.emplace_back("what_if", jsonOf(*fit, *more, **wantedU));
    Answer answer;
    answer.status = fit->contradictsItself() ? 1 : 0;
    answer.text = arguments.has("json") ? printedJson(object, JsonLayout::line) + "\n"
                                        : textOf(*fit, words) + (more ? textOf(*fit, *more, **wantedU) : std::string());
    return answer;
}

} // namespace couplet
