// SPDX-License-Identifier: GPL-3.0-or-later
//
// The part of ReferenceBench that fills the view.
#include "Plugin/ReferenceBench.h"

#include <fmt/format.h>

namespace couplet {
namespace {

constexpr double heardFor_s = 2.9;
constexpr int updatesPerHistory = 20; // ages are told in minutes

std::vector<BudgetRow> rowsOf(const Budget& budget)
{
    std::vector<BudgetRow> rows;
    double variance = 0.0;
    for (const BudgetTerm& term : budget)
        variance += term.u_dB * term.u_dB;
    for (const BudgetTerm& term : budget)
        rows.push_back({term, variance > 0.0 ? 100.0 * term.u_dB * term.u_dB / variance : 0.0});
    return rows;
}

std::string limitsText(const Calibrator& calibrator)
{
    return calibrator.calibratorClass ? fmt::format("class {} limits", *calibrator.calibratorClass)
                                      : std::string("unknown class: class 2 limits");
}

} // namespace

void ReferenceBench::update()
{
    endIfBenchChanged();
    std::string why;
    const auto outcome = outcomeNow(why);
    shown.whyNot = why;
    showChosen();
    showSum(outcome);
    showTone(outcome);
    showCapture();
    showHistory();
    ++shown.revision;
}

// Of the tone that sounds; a step that is none yet is left out rather than all the rest.
std::optional<ReferenceOutcome> ReferenceBench::outcomeNow(std::string& why) const
{
    auto setup = setupNow(why);
    if (!setup)
        return std::nullopt;
    setup->needed_s = heardFor_s;
    const ToneSummary tone = capture.tone();
    if (!tone.level_dBFS) {
        why = tone.whyNoLevel;
        return std::nullopt;
    }
    auto taken = couplet::takeReference(tone, *setup);
    if (!taken && setup->secondLevel) {
        setup->secondLevel.reset();
        taken = couplet::takeReference(tone, *setup);
    }
    if (!taken) {
        why = taken.fault().sentence;
        return std::nullopt;
    }
    why = whyNotFit(*taken);
    return *taken;
}

void ReferenceBench::showChosen()
{
    const Coupler* c = coupler();
    const auto chosen = calibrator();
    shown.coupler = c != nullptr ? c->name : "";
    shown.simulated = simulated();
    shown.calibrators.clear();
    for (const Calibrator& each : calibrators)
        shown.calibrators.push_back(each.name);
    shown.calibrator = chosen ? chosen->name : "";
    shown.levels_dB.clear();
    if (chosen && !chosen->tones.empty()) {
        const Hertz frequency = chosen->nearest(capture.tone().frequency.value_or(Hertz(1000.0))).frequency;
        for (const CertifiedTone& tone : chosen->tones)
            if (tone.frequency == frequency)
                shown.levels_dB.push_back(tone.level_dB);
    }
    shown.level_dB = level_dB;
    shown.needsPressure = chosen && chosen->pressureLaw.needsPressure();
    shown.pressure = pressure;
    shown.correction = c != nullptr ? c->correction : std::nullopt;
    shown.judged = c != nullptr ? c->judged : JudgedTerms{};
    shown.limitsText = chosen ? limitsText(*chosen) : "";
    shown.cannotBeKnown.clear();
    if (c != nullptr)
        shown.cannotBeKnown = couplet::cannotBeKnown(*c, chosen.value_or(Calibrator{}),
                                                     {live.audio().sampleRate_Hz, live.chosen().channel, timeNow()});
}

void ReferenceBench::showSum(const std::optional<ReferenceOutcome>& outcome)
{
    const Coupler* c = coupler();
    const Reference* current = c != nullptr ? c->current() : nullptr;
    const bool keptNow = keptOutcome && keptHere();
    const auto& from = waiting ? waiting : keptNow ? keptOutcome : outcome;
    shown.sumIsLive = !waiting && !keptNow && from && from->offset;
    std::vector<Addend> addends;
    Budget budget;
    shown.offset_dB = shown.tone_dBFS = shown.atMicrophone_dB = shown.before_dB = shown.change_dB = std::nullopt;
    shown.missing.clear();
    shown.beforeAge.clear();
    if (from && from->offset) {
        addends = from->offset->addends;
        budget = from->offset->budget;
        shown.missing = from->offset->missing;
        shown.offset_dB = from->offset->level_dB;
        shown.tone_dBFS = from->tone.level_dBFS;
        shown.change_dB = from->history.change_dB;
        if (shown.change_dB)
            shown.before_dB = *shown.offset_dB - *shown.change_dB - from->correctionChange_dB.value_or(0.0);
    }
    else if (current != nullptr) {
        addends = current->addends;
        budget = current->budget;
        shown.missing = current->missing;
        shown.offset_dB = current->offset_dB;
        shown.tone_dBFS = current->tone_dBFS;
    }
    if (shown.offset_dB)
        shown.atMicrophone_dB = *shown.offset_dB + *shown.tone_dBFS;
    if (!addends.empty())
        addends.pop_back(); // the last is the tone itself
    shown.toMicrophone = std::move(addends);
    shown.expanded = shown.missing.empty() && !budget.empty() ? std::optional(expand(budget)) : std::nullopt;
    shown.budget = shown.missing.empty() ? rowsOf(budget) : std::vector<BudgetRow>{};
    if (shown.before_dB && current != nullptr && !keptNow)
        if (const auto age = ageOf_s(*current, timeNow()))
            shown.beforeAge = durationText(*age);
}

void ReferenceBench::showTone(const std::optional<ReferenceOutcome>& outcome)
{
    shown.checks.clear();
    shown.warnings.clear();
    shown.fit = outcome && outcome->fitToUse;
    if (!outcome)
        return;
    shown.checks = outcome->checks;
    shown.warnings = outcome->warnings;
}

void ReferenceBench::showCapture()
{
    shown.state = endIsPast ? CaptureState::idle : capture.state();
    shown.kind = capture.wish().kind;
    shown.handsFree = capture.wish().handsFree;
    shown.seatingsKept = capture.seatingsKept();
    shown.seatingsWanted = captures() ? capture.wish().seatings : seatings;
    shown.restarts = capture.restarts();
    const double needed_s = shown.kind == CaptureKind::reference ? capture.wish().take_s : quickCheck_s;
    shown.progress = captures() ? capture.kept_s() / needed_s : 0.0;
    shown.progressText.clear();
    if (captures() && shown.kind == CaptureKind::reference)
        shown.progressText = fmt::format("seating {} of {} \u00b7 {:.1f} of {:g} s kept", shown.seatingsKept + 1,
                                         shown.seatingsWanted, capture.kept_s(), needed_s);
    else if (captures())
        shown.progressText = fmt::format("{:.1f} of {:g} s heard", capture.kept_s(), needed_s);
    shown.notice = refusal;
    if (refusal.empty() && !endIsPast)
        shown.notice = capture.notice();
    std::string why;
    shown.canTake = !captures() && setupNow(why).has_value();
    shown.canCancel = captures();
    shown.canFinish = captures() && shown.seatingsKept > 0;
    shown.canUndo = captures() ? shown.seatingsKept > 0 : waiting || keptHere();
    shown.waits_dB = waiting ? waiting->moved_dB : std::nullopt;
    shown.waitsText = waiting ? whatToCheck(*waiting) : std::string();
    shown.check = lastCheck;
    shown.secondLevel_dBFS = secondLevel ? secondLevel->level_dBFS : std::nullopt;
    const auto& told = waiting ? waiting : keptOutcome;
    shown.notes = told ? told->notes : std::vector<std::string>{};
}

// Made anew when the coupler changed, and now and then for its age.
void ReferenceBench::showHistory()
{
    const Coupler* c = coupler();
    if (c == nullptr) {
        shown.history = {};
        historyFor.reset();
        return;
    }
    if (historyFor && *historyFor == *c && ++updatesSinceHistory < updatesPerHistory)
        return;
    shown.history = historyOf(*c, timeNow());
    historyFor = *c;
    updatesSinceHistory = 0;
}

} // namespace couplet
