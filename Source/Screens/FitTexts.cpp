// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitTexts.h"

#include "Bench/FitWords.h"
#include "Library/Utf8.h"
#include "Quantities/QuantityText.h"
#include "Screens/FitRows.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

// As it stands on a page: begun large and ended.
std::string sentence(std::string text)
{
    if (text.empty())
        return text;
    if (text[0] >= 'a' && text[0] <= 'z')
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text + (text.back() == '.' || text.back() == '?' || text.back() == '!' ? "" : ".");
}

void addBare(FitSummary& summary, const FitView& view)
{
    summary.headline = "No correction is needed: this microphone leaves its coupler.";
    summary.sentences = {"Put it bare into the calibrator and take the reference so. The offset is the microphone's "
                         "own, and stays with it when it goes back into the coupler."};
    summary.offersBare = true;
    if (!view.fit)
        return;
    summary.sentences.push_back(fmt::format("For comparison: what is read here says that the coupler takes {} dB.",
                                            levelText(view.fit->correction_dB())));
    summary.sentences.push_back(view.words.interval);
}

// What is left to prove the correction with.
std::string proofNote(const std::vector<FittedEarphone>& earphones)
{
    const auto has = [&](auto&& which) { return std::any_of(earphones.begin(), earphones.end(), which); };
    if (has([](const FittedEarphone& e) { return e.keptAside; }))
        return "An earphone is kept aside: on the Earphones page it can prove the correction.";
    if (has([](const FittedEarphone& e) { return e.takesPart; }))
        return "An earphone that chose the correction cannot also prove it: keep one aside for the Earphones page.";
    return "No earphone takes part: the fittings alone choose.";
}

// Of what was asked for last.
bool addAnswer(FitSummary& summary, const FitView& view)
{
    summary.attention = !view.notice.empty();
    for (const auto* answer : {&view.notice, &view.told, &view.used})
        if (summary.note.empty())
            summary.note = sentence(*answer);
    return !summary.note.empty();
}

void addNote(FitSummary& summary, const FitView& view)
{
    if (addAnswer(summary, view))
        return;
    if (!view.readOn.empty()) {
        summary.note =
            fmt::format("These readings are of {}, and {} is chosen.", inQuotes(view.readOn), inQuotes(view.coupler));
        if (view.fit && !view.canUse && !view.whyNotUse.empty())
            summary.note += " " + sentence(view.whyNotUse);
        summary.attention = true;
    }
    else if (view.fit && !view.canUse && view.input.settings.microphoneBuiltIn && !view.whyNotUse.empty()) {
        summary.note = sentence(view.whyNotUse);
        summary.attention = true;
    }
    else if (!view.input.settings.microphoneBuiltIn) {
        if (view.canUseNone)
            summary.note = "The coupler holds a correction: a reference would have it taken off.";
        summary.attention = view.canUseNone;
    }
    else if (view.fit) {
        summary.note = proofNote(view.fit->earphones);
    }
}

std::string moreWords(std::size_t count)
{
    return fmt::format("{} more reading{}", count, count == 1 ? "" : "s");
}

// What is true of several groups is said once.
void addMore(std::vector<FitParagraph>& all, const FitView& view)
{
    const auto& more = view.whatIf->more;
    std::vector<std::pair<std::string, std::optional<std::size_t>>> groups;
    for (std::size_t i = 0; i < more.ofFitting.size() && i < view.fit->fittings.size(); ++i)
        groups.emplace_back(onOneLine(view.fit->fittings[i].name), more.ofFitting[i]);
    if (view.fit->through && view.fit->through->count > 1 && !groups.empty() && !view.whatIfWorking)
        groups.emplace_back("through the coupler", more.ofThrough);
    bool there = false;
    std::string never;
    std::size_t without = 0;
    for (const auto& [name, count] : groups) {
        if (count && *count > 0)
            all.push_back({name + ": " + moreWords(*count)});
        there = there || count == std::size_t{0};
        if (count)
            continue;
        ++without;
        never += (never.empty() ? "" : ", ") + name;
    }
    if (there) // of one group, and so of all
        all.push_back({"it is there already: no more readings are needed"});
    if (without == groups.size() && without > 1 && !view.whatIfWorking)
        never = "no group can do it alone";
    if (!never.empty())
        all.push_back({fmt::format("{}: not with {} more; what it repeats, more readings do not lessen", never,
                                   mostMoreReadings)});
}

void addPair(std::vector<FitParagraph>& all, const CorrectionFit& fit, const FitPair& pair)
{
    if (pair.first >= fit.fittings.size() || pair.second >= fit.fittings.size())
        return;
    const auto first = onOneLine(fit.fittings[pair.first].name), second = onOneLine(fit.fittings[pair.second].name);
    if (!pair.ofFirst && !pair.ofSecond) {
        all.push_back({fmt::format("{} and {}: no number of readings of one of them tells them apart", first, second)});
        return;
    }
    std::string text = fmt::format("{} and {}: ", first, second);
    if (pair.ofFirst)
        text += fmt::format("{} of {}", moreWords(*pair.ofFirst), first);
    if (pair.ofSecond)
        text += fmt::format("{}{} of {}", pair.ofFirst ? ", or " : "", moreWords(*pair.ofSecond), second);
    all.push_back({text});
}

} // namespace

FitSummary fitSummary(const FitView& view)
{
    FitSummary summary;
    summary.canUse = view.canUse;
    summary.use = view.fit && !view.fit->contradictsItself()
                      ? fmt::format("Use {} dB in this coupler", levelText(view.fit->correction_dB()))
                      : std::string("Use it in this coupler");
    if (!view.input.settings.microphoneBuiltIn)
        addBare(summary, view);
    else if (view.fit) {
        summary.headline = view.words.headline;
        summary.sentences.push_back(view.words.interval);
        summary.sentences.insert(summary.sentences.end(), view.words.sentences.begin(), view.words.sentences.end());
    }
    else {
        summary.headline = "No correction yet.";
        summary.sentences.push_back(sentence(view.whyNot));
    }
    addNote(summary, view);
    return summary;
}

std::string storedWords(const FitView& view)
{
    if (!view.stored)
        return {};
    auto text = "in the coupler now: " + levelText(view.stored->value_dB);
    return text + (view.stored->U_dB ? " " + uncertaintyText(*view.stored->U_dB) : std::string()) + " dB";
}

std::vector<FitParagraph> whyParagraphs(const FitView& view)
{
    std::vector<FitParagraph> all;
    const auto add = [&all](const char* heading, const std::vector<std::string>& texts) {
        if (texts.empty())
            return;
        all.push_back({heading, true});
        for (const auto& text : texts)
            all.push_back({text, false});
    };
    if (!view.used.empty())
        add("Used", {view.used});
    if (!view.fit) {
        add("Why there is no result", {view.whyNot});
        return all;
    }
    auto sentences = view.words.sentences;
    sentences.insert(sentences.begin(), view.words.interval);
    add("What decides", sentences);
    add("Statistics", view.words.why);
    add("Notes", view.words.notes);
    return all;
}

std::vector<FitParagraph> whatIfParagraphs(const FitView& view)
{
    std::vector<FitParagraph> all;
    if (!view.fit) {
        all.push_back({view.whyNot, false});
        return all;
    }
    const FitParagraph working{"It is being worked out, group by group."};
    if (!view.whatIf && view.whatIfWorking) {
        all.push_back(working);
        return all;
    }
    if (!view.whatIf) {
        if (view.fit->hasUncertainty())
            all.push_back({fmt::format("U is {} dB now. Say what it should be.", uncertaintyText(view.fit->U_dB()))});
        else
            all.push_back({"There is no U yet: " + whyNoUncertainty(*view.fit) + "."});
        return all;
    }
    all.push_back({fmt::format("To bring U to {} dB, of one group alone", levelText(view.whatIf->wantedU_dB)), true});
    addMore(all, view);
    if (view.whatIfWorking)
        all.push_back(working);
    if (view.whatIf->pairs.empty())
        return all;
    all.push_back({"To tell apart what is not told apart now", true});
    for (const auto& pair : view.whatIf->pairs)
        addPair(all, *view.fit, pair);
    return all;
}

std::string notesWords(const FitView& view)
{
    const auto count = view.fit ? view.words.notes.size() : 0;
    return count == 0 ? std::string() : fmt::format("{} note{}", count, count == 1 ? "" : "s");
}

std::size_t readingsOfTarget(const FitView& view)
{
    const auto* group = groupOf(view, view.target);
    if (group != nullptr)
        return levelsThatCount(group->readings).size();
    const auto* earphone = earphoneOf(view, view.target);
    if (earphone == nullptr || earphone->setAside == notReadYet)
        return 0;
    return earphone->insertions.empty() ? 1 : levelsThatCount(earphone->insertions).size();
}

std::string targetWords(const FitView& view)
{
    const auto name = nameOf(view, view.target);
    if (!name.empty())
        return name;
    return view.target.kind == FitKind::earphone ? "an earphone" : "a new fitting";
}

const char* captureWords(FitCaptureState state)
{
    switch (state) {
    case FitCaptureState::waiting:
        return "waiting";
    case FitCaptureState::reading:
        return "reading";
    case FitCaptureState::lift:
        return "lift it off";
    case FitCaptureState::off:
        break;
    }
    return "off";
}

} // namespace couplet
