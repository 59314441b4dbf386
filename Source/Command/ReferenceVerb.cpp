// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReadingJson.h"
#include "Command/BenchArguments.h"
#include "Command/BenchText.h"
#include "Command/HistoryText.h"
#include "Command/ReferenceArguments.h"
#include "Command/TakeAnalysis.h"
#include "Command/Verb.h"

#include "Bench/HistoryCsv.h"
#include "Bench/QuickCheck.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <utility>

namespace couplet {
namespace {

// A reference that is not fit is told, and not kept: an offset from it would look like any other.
// Nor is one that has moved beyond the usual limits, unless somebody says that it is meant; it bears the mark then.
Outcome<Done> keep(ReferenceOutcome& reference, const ReferenceSetup& setup, const Folder& folder, bool althoughMoved)
{
    if (!reference.offset || !reference.fitToUse) {
        reference.notes.push_back("not kept: the tone is not fit to use");
        return Done{};
    }
    if (reference.moved_dB && !althoughMoved) {
        reference.notes.push_back(fmt::format("not kept: it moved by {} dB; if a gain or the microphone was changed on "
                                              "purpose, keep it with --keep --although-moved",
                                              signedLevelText(*reference.moved_dB)));
        return Done{};
    }
    if (reference.moved_dB)
        reference.notes.push_back(
            "kept although it moved: it and the readings made with it bear the mark, and the next "
            "references are compared with it");
    Coupler coupler = setup.coupler;
    if (setup.correction) {
        coupler.correction = setup.correction;
        coupler.correction->frequency = reference.certified.frequency;
    }
    coupler.references.push_back(reference.kept(setup));
    return folder.save(coupler);
}

Answer answerOf(const Arguments& arguments, const JsonObject& json, const std::string& text, bool yes)
{
    Answer answer;
    answer.status = yes ? 0 : 1;
    answer.text = arguments.has("json") ? printedJson(json, JsonLayout::line) + "\n" : text;
    return answer;
}

// What belongs to another use of the verb would be left unheeded in silence.
Outcome<Done> only(const Arguments& arguments, const char* use, const std::vector<std::string_view>& allowed)
{
    for (const OptionSpec& option : verbNamed("reference")->options)
        if (arguments.has(option.name) && option.name != use &&
            std::find(allowed.begin(), allowed.end(), option.name) == allowed.end())
            return Fault{fmt::format("--{} has no part in --{}: leave it out", option.name, use)};
    if (!arguments.words().empty())
        return Fault{fmt::format("--{} takes no TAKE: leave {} out", use, couplet::quoted(arguments.words().front()))};
    return Done{};
}

Outcome<Coupler> knownCoupler(const Arguments& arguments, const Folder& folder)
{
    const std::string* name = arguments.value("coupler");
    if (name == nullptr)
        return Fault{"which coupler? give --coupler NAME"};
    return folder.coupler(*name);
}

Outcome<Answer> showHistory(const Arguments& arguments, const Folder& folder)
{
    if (const auto good = only(arguments, "history", {"coupler", "csv"}); !good)
        return good.fault();
    if (arguments.has("csv") && arguments.has("json"))
        return Fault{"--csv and --json exclude each other: leave one out"};
    const auto coupler = knownCoupler(arguments, folder);
    if (!coupler)
        return coupler.fault();
    const auto history = historyOf(*coupler, timeNow());
    if (arguments.has("csv"))
        return Answer{csvOf(history)};
    return answerOf(arguments, jsonOf(history, coupler->name), textOf(history, coupler->name), true);
}

Outcome<Answer> changeHistory(const Arguments& arguments, const Folder& folder, const char* option)
{
    const bool aside = std::string_view(option) == "set-aside";
    if (const auto good = only(arguments, option, {"coupler", aside ? "reason" : option}); !good)
        return good.fault();
    const std::string* reason = arguments.value("reason");
    if (aside && (reason == nullptr || trimmed(*reason).empty()))
        return Fault{"why is it set aside? give --reason TEXT"};
    auto coupler = knownCoupler(arguments, folder);
    if (!coupler)
        return coupler.fault();
    const auto done = setAside(*coupler, *arguments.value(option), aside ? std::string(trimmed(*reason)) : "");
    if (!done)
        return done.fault();
    if (const auto saved = folder.save(*coupler); !saved)
        return saved.fault();
    const auto history = historyOf(*coupler, timeNow());
    return answerOf(arguments, jsonOf(history, coupler->name), textOf(history, coupler->name), true);
}

using Takes = std::vector<std::string>::const_iterator;

// Counted twice, one seating would make the offset look surer than it is.
std::optional<std::string> givenBefore(Takes first, Takes take)
{
    const auto same = std::find_if(first, take, [&](const std::string& other) {
        std::error_code cannotTell;
        return std::filesystem::equivalent(other, *take, cannotTell);
    });
    return same == take ? std::nullopt : std::optional(*same);
}

Outcome<std::vector<ToneSummary>> seatingsOf(const Arguments& arguments, int channel)
{
    std::vector<ToneSummary> seatings;
    const auto& takes = arguments.words();
    for (auto take = takes.begin(); take != takes.end(); ++take) {
        if (const auto twice = givenBefore(takes.begin(), take))
            return Fault{fmt::format("{} is the same take as {}: each seating needs a take of its own; leave one out",
                                     couplet::quoted(*take), couplet::quoted(*twice))};
        const auto analysis = analyseTake(*take, channel);
        if (!analysis)
            return analysis.fault();
        seatings.push_back(analysis->tone);
    }
    return seatings;
}

Outcome<Answer> check(const Arguments& arguments, const Folder& folder, const ReferenceSetup& setup)
{
    for (const char* option : {"keep", "although-moved", "second-level"})
        if (arguments.has(option))
            return Fault{fmt::format("--check stores nothing and needs no --{}: leave it out", option)};
    if (arguments.words().size() > 1)
        return Fault{"--check takes one TAKE: leave the others out"};
    if (const auto known = folder.coupler(setup.coupler.name); !known)
        return known.fault();
    const auto tone = seatingsOf(arguments, setup.channel);
    if (!tone)
        return tone.fault();
    const auto result = quickCheck(tone->front(), setup);
    return answerOf(arguments, jsonOf(result), textOf(result, setup.coupler.name),
                    result.verdict == QuickCheck::Verdict::holds);
}

Outcome<Answer> take(const Arguments& arguments, const Folder& folder, ReferenceSetup setup)
{
    const auto seatings = seatingsOf(arguments, setup.channel);
    if (!seatings)
        return seatings.fault();
    for (const std::string& word : arguments.words())
        setup.source += (setup.source.empty() ? "" : ", ") + std::filesystem::path(word).filename().string();
    if (const std::string* second = arguments.value("second-level")) {
        const auto analysis = analyseTake(*second, setup.channel);
        if (!analysis)
            return analysis.fault();
        setup.secondLevel = analysis->tone;
    }
    auto reference = takeReference(*seatings, setup);
    if (!reference)
        return reference.fault();
    const bool althoughMoved = arguments.has("although-moved");
    if (arguments.has("keep"))
        if (const auto done = keep(*reference, setup, folder, althoughMoved); !done)
            return done.fault();
    return answerOf(arguments, jsonOf(*reference), textOf(*reference, setup.coupler.name),
                    reference->fitToUse && (!reference->moved_dB || althoughMoved));
}

} // namespace

Outcome<Answer> runReference(const Arguments& arguments)
{
    const Folder folder = libraryOf(arguments);
    if (arguments.has("history"))
        return showHistory(arguments, folder);
    for (const char* option : {"set-aside", "put-back"})
        if (arguments.has(option))
            return changeHistory(arguments, folder, option);
    for (const auto& [option, needed] : {std::pair{"csv", "history"}, std::pair{"reason", "set-aside"}})
        if (arguments.has(option))
            return Fault{fmt::format("--{} needs --{} beside it", option, needed)};
    if (arguments.has("although-moved") && !arguments.has("keep") && !arguments.has("check"))
        return Fault{"--although-moved needs --keep beside it"};
    if (arguments.words().empty())
        return Fault{fmt::format("reference needs TAKE; write it behind the verb, for example '{}'",
                                 verbNamed("reference")->example.front())};
    const auto setup = referenceSetup(arguments, folder);
    if (!setup)
        return setup.fault();
    return arguments.has("check") ? check(arguments, folder, *setup) : take(arguments, folder, *setup);
}

} // namespace couplet
