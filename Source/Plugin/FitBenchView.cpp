// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of FitBench that fills the view, and what is made of a fit.
#include "Plugin/FitBench.h"

#include "Bench/FitKeeping.h"
#include "Bench/FitWords.h"
#include "Bench/SimulatedPapers.h"
#include "Library/Utf8.h"
#include "Plugin/Sentence.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace couplet {
namespace {

// Each name of the first stands at its place in the second: who looks something up by its place finds it still.
template <class List> bool beginsAs(const List& now, const List& before)
{
    return before.size() <= now.size() && std::equal(before.begin(), before.end(), now.begin(),
                                                     [](const auto& a, const auto& b) { return a.name == b.name; });
}

bool stillFits(const FitInput& now, const FitInput& before)
{
    return beginsAs(now.fittings, before.fittings) && beginsAs(now.earphones, before.earphones);
}

std::string correctionText(const std::optional<Correction>& correction)
{
    if (!correction)
        return "no correction";
    return fmt::format("a correction of {} dB{}", levelText(correction->value_dB),
                       correction->U_dB ? " (" + uncertaintyText(*correction->U_dB) + " dB)" : std::string());
}

} // namespace

std::string FitBench::countText(std::size_t count)
{
    return fmt::format("{} reading{}", count, count == 1 ? "" : "s");
}

void FitBench::update()
{
    followBench();
    if (sheetNumber == 0)
        sheetChanged();
    showChosen();
    showFit();
    showCapture();
    showUse();
    ++shown.revision;
}

void FitBench::showChosen()
{
    const auto& coupler = live.chosen().coupler;
    shown.coupler = couplerNow();
    shown.readOn = isOfAnother() ? sheet().coupler : std::string();
    shown.stored = coupler ? coupler->correction : std::nullopt;
    shown.simulated = wasSimulated;
    shown.calibrators.clear();
    shown.earphones.clear();
    if (wasSimulated) {
        shown.calibrators.push_back(calibratorOnPaper(demoScenario()).name);
        for (const auto& each : demoScenario().earphones)
            shown.earphones.emplace_back(each.name);
    }
    else {
        for (const Calibrator& each : calibrators)
            shown.calibrators.push_back(each.name);
        for (const Earphone& each : earphones)
            shown.earphones.push_back(each.name);
    }
    showPromises();
    shown.calibrator = sheet().input.settings.calibrator;
    shown.certified_dB = sheet().certified_dB;
    if (!sheet().isNew())
        return;
    FitSheet begun; // as its first change finds it
    adoptCalibrator(begun);
    shown.calibrator = begun.input.settings.calibrator;
    shown.certified_dB = begun.certified_dB;
}

void FitBench::showPromises()
{
    shown.promises.clear();
    const auto drive = driveNow();
    for (const auto& e : sheet().input.earphones) {
        auto& promise = shown.promises.emplace_back();
        const auto rated = e.setAside == notReadYet ? earphoneNamed(e.name) : std::nullopt;
        if (!drive || !rated)
            continue;
        const auto& rating = rated->rating;
        if (const auto expected = expectedLevel(rating, *drive, *rating.frequency))
            promise = FitPromise{expected->level_dB, voltageText(drive->voltage)};
    }
}

void FitBench::showFit()
{
    if (!sheetShown)
        shown.input = sheet().input;
    const bool fits = answer != nullptr && stillFits(sheet().input, *answer->input);
    shown.working = answer == nullptr || answer->number != sheetNumber;
    shown.whatIfWorking = wantedU_dB && (shown.working || answer->wish != wish);
    if (sheetShown && answer == answerShown)
        return;
    sheetShown = true;
    answerShown = answer;
    shown.fit.reset();
    shown.words = {};
    shown.whyNot.clear();
    shown.whatIf.reset();
    if (!fits)
        return;
    if (answer->fit != nullptr)
        shown.fit = *answer->fit;
    shown.words = answer->words;
    shown.whyNot = asSentence(answer->whyNot);
    if (wantedU_dB && answer->whatIf && answer->whatIf->wantedU_dB == *wantedU_dB)
        shown.whatIf = answer->whatIf;
}

void FitBench::showCapture()
{
    const ToneSummary tone = capture.tone();
    shown.target = target;
    shown.capture = capture.state();
    shown.tone_dB = asReading_dB(tone);
    shown.progress = capture.progress();
    shown.captureText = fmt::format("{} \u00b7 {}", onOneLine(nameOf(target)), countText(readingsOf(target)));
    shown.captureNotice = capture.runs() ? asSentence(capture.notice()) : captureEnded;
    if (capture.runs() && tone.level_dBFS && !shown.tone_dB) // an earphone's tone that is no reading
        if (const auto reading = readEarphone(tone, setupOf(target)); !reading)
            shown.captureNotice = asSentence(reading.fault().sentence);
    const double zero_dB = zeroNow_dB();
    shown.scaleText = zero_dB == 0.0 ? std::string("dBFS") : fmt::format("dBFS {} dB", signedLevelText(zero_dB));
}

void FitBench::showUse()
{
    shown.whyNotUse = asSentence(whyNotUse());
    shown.canUse = shown.whyNotUse.empty();
    shown.canUseNone = !sheet().input.settings.microphoneBuiltIn && shown.stored && !keeps && !live.captures();
    shown.canFillFromSimulation = wasSimulated;
    const auto& steps = papers().steps;
    shown.canUndo = !steps.empty() && !keeps;
    shown.undoText = steps.empty() ? std::string() : "Undo: " + onOneLine(steps.back().text);
}

std::string FitBench::whyNotUse() const
{
    if (!live.chosen().coupler)
        return "no coupler is chosen: a correction belongs to one";
    if (live.captures())
        return "a reference is being taken with the correction there is: use another when it has ended";
    if (keeps)
        return "the correction is being kept";
    if (answer == nullptr || answer->number != sheetNumber)
        return "the fit is being worked out";
    if (answer->fit == nullptr)
        return answer->whyNot;
    const auto& fit = *answer->fit;
    if (sheet().input.settings.calibrator.empty())
        return "no calibrator is chosen: a correction belongs to one";
    if (fit.contradictsItself())
        return contradictionText(fit) + "; nothing is used until the wrong piece is found";
    if (!fit.hasUncertainty())
        return fmt::format("{}: without it nobody can say how sure the correction is; state it with the calibrator",
                           fit.missing.front());
    return {};
}

std::string FitBench::whyAskedTwice() const
{
    const auto chosen = inQuotes(couplerNow());
    if (sheet().coupler.empty())
        return fmt::format("it is not known of which coupler these readings are: press again to keep the correction "
                           "in {}",
                           chosen);
    if (!isOfAnother())
        return {};
    return fmt::format("these readings are of {}, and {} is chosen: press again to keep the correction in {} all the "
                       "same",
                       inQuotes(sheet().coupler), chosen, chosen);
}

void FitBench::use()
{
    const auto asked = askedFor;
    beginAction();
    settle();
    if (const auto why = whyNotUse(); !why.empty())
        return refuse(why);
    if (const auto why = whyAskedTwice(); !why.empty() && asked != couplerNow()) {
        askedFor = couplerNow();
        return refuse(why);
    }
    FitUse wanted;
    wanted.coupler = live.chosen().coupler->name;
    wanted.simulated = wasSimulated;
    wanted.fit = answer->fit;
    wanted.correction = correctionFrom(sheet().input, *wanted.fit, timeNow());
    keeps = true;
    out.use(wanted);
}

void FitBench::useNone()
{
    beginAction();
    const auto& coupler = live.chosen().coupler;
    if (!coupler || !coupler->correction)
        return refuse("there is no correction to take away");
    if (sheet().input.settings.microphoneBuiltIn)
        return refuse("the microphone is built in: say first that it leaves its coupler and goes bare into the "
                      "calibrator");
    if (live.captures())
        return refuse("a reference is being taken with the correction there is: wait until it has ended");
    if (keeps)
        return;
    FitUse wanted;
    wanted.coupler = coupler->name;
    wanted.simulated = wasSimulated;
    keeps = true;
    out.use(wanted);
}

void FitBench::used(FitUsed done)
{
    keeps = false;
    Papers& page = both[done.asked.simulated ? 1 : 0];
    const bool undoing = done.asked.libraryBefore.has_value();
    if (done.fault) {
        refuse(done.fault->sentence);
        if (undoing && !done.overtaken)
            page.steps.push_back({correctionText(done.asked.usedSince), {}, done.asked});
        return;
    }
    shown.used = asSentence(fmt::format("{} has {} {}", inQuotes(done.asked.coupler),
                                        correctionText(done.asked.correction), undoing ? "again" : "now"));
    for (const auto& note : done.notes)
        shown.used += " " + asSentence(note);
    if (undoing)
        return;
    FitUse back;
    back.coupler = done.asked.coupler;
    back.simulated = done.asked.simulated;
    back.correction = done.libraryBefore.correction;
    back.usedSince = done.asked.correction;
    back.sessionBefore = std::move(done.sessionBefore);
    back.libraryBefore = std::move(done.libraryBefore);
    page.steps.push_back({correctionText(done.asked.correction), {}, std::move(back)});
}

} // namespace couplet
