// SPDX-License-Identifier: GPL-3.0-or-later
#include "ReferenceScene.h"

#include "Library/IsoTime.h"
#include "Screens/ReferenceWords.h"
#include "Workbench.h"

#include <fmt/format.h>

#include <stdexcept>

namespace couplet {
namespace {

constexpr double neededLive_s = 2.9;

void takeMoved(ReferenceScene& s, double by_dB, bool meant)
{
    s.seatings = {s.tone};
    *s.seatings.back().level_dBFS += by_dB;
    s.take(meant);
    s.tone = silence("no tone stands out of the noise: is it playing, and is this the microphone's channel?");
}

std::vector<BudgetRow> rowsOf(const Budget& budget)
{
    double variance = 0.0;
    for (const auto& term : budget)
        variance += term.u_dB * term.u_dB;
    std::vector<BudgetRow> rows;
    for (const auto& term : budget)
        rows.push_back({term, 100.0 * term.u_dB * term.u_dB / variance});
    return rows;
}

void showSum(ReferenceView& view, const std::vector<Addend>& addends, const Budget& budget,
             const std::vector<std::string>& missing)
{
    view.toMicrophone = addends;
    view.toMicrophone.pop_back(); // the tone
    view.missing = missing;
    view.atMicrophone_dB = *view.offset_dB + *view.tone_dBFS;
    if (missing.empty()) {
        view.expanded = expand(budget);
        view.budget = rowsOf(budget);
    }
}

void showOutcome(ReferenceView& view, const ReferenceOutcome& outcome)
{
    view.checks = outcome.checks;
    view.warnings = outcome.warnings;
    view.fit = outcome.fitToUse;
    view.whyNot = whyNotFit(outcome);
    if (!outcome.offset)
        return;
    view.offset_dB = outcome.offset->level_dB;
    view.tone_dBFS = outcome.tone.level_dBFS;
    view.change_dB = outcome.history.change_dB;
    if (view.change_dB)
        view.before_dB = *view.offset_dB - *view.change_dB - outcome.correctionChange_dB.value_or(0.0);
    showSum(view, outcome.offset->addends, outcome.offset->budget, outcome.offset->missing);
}

} // namespace

ReferenceSetup ReferenceScene::setup() const
{
    ReferenceSetup s;
    s.coupler = *coupler;
    s.calibrator = *calibrator;
    s.pressure = pressure;
    s.level_dB = level_dB;
    s.secondLevel = secondLevel;
    s.needed_s = neededLive_s;
    s.now = now;
    s.source = "live";
    return s;
}

void ReferenceScene::take(bool meant)
{
    const auto outcome = takeReference(seatings, setup());
    if (!outcome || !outcome->offset)
        throw std::logic_error("the scene's seatings make no reference");
    taken = *outcome;
    waits = outcome->moved_dB && !meant;
    if (!waits)
        coupler->references.push_back(outcome->kept(setup()));
    state = CaptureState::done;
}

ReferenceView ReferenceScene::view() const
{
    ReferenceView v;
    for (const auto& each : library)
        v.calibrators.push_back(each.name);
    v.state = state;
    v.kind = kind;
    v.notice = notice;
    v.seatingsKept = seatingsKept;
    v.progress = kept_s / 10.0;
    v.canCancel = runs(state);
    v.canFinish = v.canCancel && seatingsKept > 0;
    v.canUndo = v.canFinish || taken.has_value();
    v.pressure = pressure;
    v.level_dB = level_dB;
    if (v.canCancel)
        v.progressText =
            fmt::format("seating {} of {} \u00b7 {:.1f} of 10 s kept", seatingsKept + 1, v.seatingsWanted, kept_s);
    if (calibrator) {
        v.calibrator = calibrator->name;
        v.limitsText = calibrator->calibratorClass ? fmt::format("class {} limits", *calibrator->calibratorClass)
                                                   : "unknown class: class 2 limits";
        for (const auto& each : calibrator->tones)
            v.levels_dB.push_back(each.level_dB);
        v.needsPressure = calibrator->pressureLaw.needsPressure();
    }
    v.whyNot = !coupler     ? "No coupler is chosen: a reference belongs to one."
               : calibrator ? ""
                            : "The library has no calibrator: add yours, with its certified level.";
    if (!coupler)
        return v;
    v.coupler = coupler->name;
    v.correction = coupler->correction;
    v.judged = coupler->judged;
    v.history = historyOf(*coupler, now);
    v.cannotBeKnown = cannotBeKnown(*coupler, calibrator.value_or(Calibrator{}), {tone.sampleRate_Hz, 1, now});
    v.canTake = calibrator && !v.canCancel;
    if (!calibrator)
        return v;
    const auto outcome = takeReference(tone, setup());
    if (outcome)
        showOutcome(v, *outcome);
    else
        v.whyNot = outcome.fault().sentence;
    v.sumIsLive = outcome && outcome->offset && !taken;
    if (taken) {
        showOutcome(v, *taken);
        v.notes = taken->notes;
        v.waits_dB = waits ? taken->moved_dB : std::nullopt;
        v.waitsText = waits ? whatToCheck(*taken) : "";
    }
    const Reference* current = coupler->current();
    if (!v.offset_dB && current != nullptr) {
        v.offset_dB = current->offset_dB;
        v.tone_dBFS = current->tone_dBFS;
        showSum(v, current->addends, current->budget, current->missing);
    }
    if (v.sumIsLive && current != nullptr)
        v.beforeAge = durationText(*ageOf_s(*current, now));
    return v;
}

Coupler couplerWith(const std::vector<double>& offsets_dB, double daysApart)
{
    Coupler c;
    c.name = "Ear simulator, left bench";
    c.kind = "ear simulator IEC 60318-4";
    c.gainNote = "gain at the notch";
    c.slot = 1;
    c.correction = Correction{
        1.36,        0.45, true, "field calibrator", Hertz(1000.0), "fit of 2026-05-03, mostly the silicone collar",
        "2026-05-03"};
    const auto last = *instantFrom("2026-05-02T15:40:00Z");
    for (std::size_t i = 0; i < offsets_dB.size(); ++i) {
        const double before_d = daysApart * static_cast<double>(offsets_dB.size() - 1 - i);
        Reference r;
        r.takenAt = textOf(last - std::chrono::minutes(static_cast<long>(before_d * 24.0 * 60.0)));
        r.offset_dB = offsets_dB[i];
        r.tone_dBFS = 112.66 - offsets_dB[i];
        r.addends = {{"certified level, 1 kHz", 114.02},
                     {"static pressure: regulates itself", 0.0},
                     {"taken by the coupler", -1.36},
                     {"full scale above the tone at the input", -r.tone_dBFS}};
        r.budget = {{"correction, with the calibrator", 0.225, infiniteDegrees, Shape::normal, c.correction->origin},
                    judgedTerm("seating it again", {}, assumedSeating_dB),
                    judgedTerm("drift since", {}, assumedDrift_dB),
                    {"reading", 0.004, infiniteDegrees, Shape::normal, "scatter of the tone"}};
        r.calibrator = "field calibrator";
        r.calibratorClass = 1;
        r.frequency = Hertz(1000.04);
        r.sampleRate_Hz = 48000.0;
        r.source = "live";
        c.references.push_back(r);
    }
    return c;
}

ReferenceScene sketchedScene()
{
    ReferenceScene scene;
    // As the sketch's control chart has them, without the last.
    scene.coupler =
        couplerWith({121.91, 121.92, 121.92, 121.97, 121.88, 121.98, 121.94, 122.03, 122.03, 122.05, 122.02, 121.98,
                     122.03, 122.05, 121.96, 122.24, 121.98, 122.05, 121.95, 121.97, 122.00, 122.00, 122.00},
                    3.0);
    scene.coupler->references[15].setAside = "gain moved";
    Calibrator calibrator;
    calibrator.name = "field calibrator";
    calibrator.calibratorClass = 1;
    calibrator.pressureLaw.kind = PressureLaw::Kind::none;
    calibrator.tones = {{Hertz(1000.0), 114.02, 0.15}};
    Calibrator other = calibrator;
    other.name = "pistonphone";
    other.tones = {{Hertz(250.0), 124.00, 0.10}};
    other.pressureLaw.kind = PressureLaw::Kind::piston;
    scene.library = {calibrator, other};
    scene.calibrator = calibrator;
    scene.tone = calibratorTone();
    return scene;
}

void takeNoCalibrator(ReferenceScene& s)
{
    takeMoved(s, -16.0, false);
}

void takeStep(ReferenceScene& s)
{
    takeMoved(s, 6.02, true);
}

} // namespace couplet
