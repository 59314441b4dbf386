// SPDX-License-Identifier: GPL-3.0-or-later
#include "ReferenceStates.h"

#include "ReferenceScene.h"
#include "Workbench.h"

#include "Screens/Header.h"
#include "Screens/MainView.h"

#include <cmath>
#include <functional>
#include <stdexcept>

namespace couplet {
namespace {

using What = ReferenceSheet::What;
constexpr const char* noToneWhy =
    "no tone stands out of the noise: is it playing, and is this the microphone's channel?";

LiveView liveOf(const ToneSummary& tone)
{
    Workbench bench = sketchedBench();
    bench.tone = tone;
    return bench.view();
}

NamedReference changed(const std::string& name, const std::function<void(ReferenceScene&)>& change)
{
    ReferenceScene scene = sketchedScene();
    change(scene);
    LiveView live = scene.coupler ? liveOf(scene.tone) : stateNamed("nothing-chosen");
    NamedReference state{name, std::move(live), scene.view()};
    state.live.referenceAge_s = state.view.history.age_s;
    return state;
}

void unsteady(ToneSummary& tone)
{
    tone.steadiness_dB = 0.21;
    tone.stretch_s = 1.4;
}

void withSecondLevel(ReferenceScene& s)
{
    s.calibrator->tones.push_back({Hertz(1000.0), 94.03, 0.15});
    s.secondLevel = s.tone;
    s.secondLevel->level_dBFS = -9.31 - 19.98;
    s.level_dB = 114.02;
}

void takeThree(ReferenceScene& s)
{
    for (const double off_dB : {-0.03, 0.01, 0.02}) {
        s.seatings.push_back(s.tone);
        *s.seatings.back().level_dBFS += off_dB;
    }
    s.take();
    s.tone = silence(noToneWhy); // lifted
    s.notice.clear();
}

void quickly(ReferenceScene& s, ReferenceView& view, double moved_dB)
{
    auto heard = s.tone;
    *heard.level_dBFS += moved_dB;
    view.kind = CaptureKind::quickCheck;
    view.check = quickCheck(heard, s.setup());
    view.notice = view.check->sentence;
    view.state = view.check->verdict == QuickCheck::Verdict::cannotTell ? CaptureState::refused : CaptureState::done;
}

NamedReference checked(const std::string& name, double moved_dB)
{
    ReferenceScene scene = sketchedScene();
    NamedReference state{name, liveOf(scene.tone), scene.view()};
    quickly(scene, state.view, moved_dB);
    return state;
}

std::vector<NamedReference> captures()
{
    return {changed("idle", [](ReferenceScene&) {}),
            changed("waiting",
                    [](ReferenceScene& s) {
                        unsteady(s.tone);
                        s.state = CaptureState::waiting;
                        s.notice = "the level strays by 0.21 dB: seat the calibrator fully, keep it still and check "
                                   "its battery";
                    }),
            changed("armed",
                    [](ReferenceScene& s) {
                        s.tone = silence(noToneWhy);
                        s.state = CaptureState::armed;
                        s.notice = noToneWhy;
                    }),
            changed("capturing",
                    [](ReferenceScene& s) {
                        withSecondLevel(s);
                        s.state = CaptureState::capturing;
                        s.seatingsKept = 1;
                        s.kept_s = 7.0;
                    }),
            changed("knocked",
                    [](ReferenceScene& s) {
                        s.state = CaptureState::capturing;
                        s.kept_s = 0.6;
                        s.notice = "The level moved by \u22120.42 dB: the count restarts.";
                    }),
            changed("lift",
                    [](ReferenceScene& s) {
                        s.state = CaptureState::lift;
                        s.seatingsKept = 2;
                        s.notice = "Lift the calibrator and seat it again; the next seating begins by itself.";
                    }),
            changed("refused",
                    [](ReferenceScene& s) {
                        s.tone.frequency = Hertz(987.2);
                        s.tone.distortionAndNoise_percent = 5.1;
                        s.tone.headroom_dB = 2.1;
                        s.state = CaptureState::refused;
                        s.notice = "the frequency is 987.2 Hz, 1.3 % off: is the calibrator's battery low, or its "
                                   "switch at another frequency?";
                    }),
            changed("refused-silence",
                    [](ReferenceScene& s) {
                        s.tone = silence(noToneWhy);
                        s.state = CaptureState::refused;
                        s.notice = noToneWhy;
                    }),
            changed("cancelled",
                    [](ReferenceScene& s) {
                        s.state = CaptureState::cancelled;
                        s.notice = "Cancelled: nothing was kept.";
                    }),
            changed("done", takeThree),
            changed("waits", takeNoCalibrator),
            changed("stepped", takeStep)};
}

std::vector<NamedReference> checks()
{
    auto unsure = checked("cannot-tell", 0.0);
    ReferenceScene scene = sketchedScene();
    unsteady(scene.tone);
    unsure.view = scene.view();
    quickly(scene, unsure.view, -0.9);
    return {checked("holds", 0.02), checked("moved", -6.02), checked("moved-seat", -0.52), unsure};
}

ReferenceScene longHistory(std::size_t count)
{
    ReferenceScene s = sketchedScene();
    std::vector<double> offsets;
    for (std::size_t i = 0; i < count; ++i) {
        const auto t = static_cast<double>(i);
        offsets.push_back(121.97 + 0.0004 * t + 0.03 * std::sin(1.7 * t) + 0.02 * std::sin(0.61 * t * t));
    }
    for (std::size_t i = 17; i < count; i += 41)
        offsets[i] += 6.02;
    *s.coupler = couplerWith(offsets, 1.0);
    for (std::size_t i = 17; i < count; i += 41)
        s.coupler->references[i].setAside = "gain one step up, and put back";
    return s;
}

std::vector<NamedReference> histories()
{
    auto few = changed("few", [](ReferenceScene& s) { s.coupler->references.resize(3); });
    auto first = changed("first", [](ReferenceScene& s) { s.coupler->references.clear(); });
    first.live = stateNamed("unreferenced");
    auto stale = changed("stale", [](ReferenceScene& s) { s.now = "2026-05-06T09:00:00Z"; });
    stale.live = stateNamed("stale");
    stale.live.referenceAge_s = stale.view.history.age_s;
    const auto many = longHistory(300);
    NamedReference history{"history", liveOf(many.tone), many.view()};
    auto table = changed("table", takeThree);
    table.sheet = What::history;
    auto tableMany = history;
    tableMany.name = "table-many";
    tableMany.sheet = What::history;
    auto aside = changed("aside", takeThree);
    aside.setsAside = true;
    return {few, first, stale, history, table, tableMany, aside};
}

std::vector<NamedReference> budgets()
{
    auto terms = changed("judged", [](ReferenceScene& s) {
        withSecondLevel(s);
        s.coupler->judged.seating_dB = 0.03;
        s.coupler->judged.barometer = Kilopascals(0.05);
    });
    terms.sheet = What::budget;
    auto missing = changed("missing", [](ReferenceScene& s) {
        s.coupler->correction->U_dB.reset();
        s.coupler->references.clear();
    });
    auto missingTable = missing;
    missingTable.name = "missing-table";
    missingTable.sheet = What::budget;
    auto remarks = changed("remarks", takeThree);
    remarks.sheet = What::remarks;
    return {terms, missing, missingTable, remarks};
}

void onPistonphone(ReferenceScene& s)
{
    s.calibrator = s.library[1];
    s.coupler->correction->frequency = Hertz(250.0);
    s.coupler->correction->includesCalibrator = false;
    s.coupler->references.clear();
    s.tone.frequency = Hertz(250.01);
    s.tone.level_dBFS = 0.5 - 3.6;
    s.tone.headroom_dB = 3.1;
}

std::vector<NamedReference> benches()
{
    auto nothing = changed("nothing", [](ReferenceScene& s) {
        s.coupler.reset();
        s.calibrator.reset();
        s.library.clear();
    });
    auto noCalibrator = changed("no-calibrator", [](ReferenceScene& s) {
        s.calibrator.reset();
        s.library.clear();
    });
    auto pressure = changed("pressure", [](ReferenceScene& s) {
        onPistonphone(s);
        s.pressure = Kilopascals(99.2);
    });
    auto pressureMissing = changed("pressure-missing", onPistonphone);
    pressure.live = pressureMissing.live = stateNamed("unreferenced");
    auto simulated = changed("simulated", [](ReferenceScene&) {});
    simulated.live = stateNamed("simulated");
    simulated.live.onSimulatedCoupler = {OnCoupler::What::calibrator};
    simulated.view.simulated = true;
    const std::string name =
        "Pistofono da banco di taratura, comprato insieme all'altro banco, \u0391\u03ba\u03bf\u03c5"
        "\u03c3\u03c4\u03b9\u03ba\u03cc";
    auto everything = changed("everything", [&name](ReferenceScene& s) {
        withSecondLevel(s);
        s.coupler->name = s.calibrator->name = name;
        s.calibrator->due = "2025-01-31";
        s.coupler->gainNote = "pad in, gain at the second notch from the left, phantom power on, low cut off";
        s.coupler->references.back().sampleRate_Hz = 96000.0;
        s.coupler->references.back().channel = 2;
        for (auto& r : s.coupler->references)
            r.setAside = "set aside for a reason that takes all of the hundred and twenty characters a reason may have";
        s.coupler->references.back().setAside.clear();
        s.library = {*s.calibrator};
        s.seatings = {s.tone};
        unsteady(s.tone);
        s.state = CaptureState::waiting;
        s.seatingsKept = 2;
        s.notice = "a steady tone is there, but \u22126.02 dB from the calibrator's of the last reference: is it the "
                   "calibrator? Then take the reference by hand";
    });
    everything.live.couplerNotice = "The switch to slot 2 waits until the capture ends.";
    everything.live.slotNames[0] = name;
    everything.view.storeNotice = "kept in this session, but not in the library: the folder cannot be written; make "
                                  "it writable or name another in COUPLET_LIBRARY";
    return {nothing, noCalibrator, pressure, pressureMissing, simulated, everything};
}

} // namespace

void show(MainView& window, const NamedReference& state)
{
    window.show(state.live);
    window.openPage(static_cast<int>(Page::reference));
    window.showReference(state.view);
    auto& page = window.referencePage();
    if (state.sheet != What::nothing)
        page.openSheet(state.sheet);
    if (state.setsAside) {
        page.select(15);
        page.select(14);
        page.keyPressed(juce::KeyPress(juce::KeyPress::deleteKey));
    }
}

std::vector<NamedReference> referenceStates()
{
    std::vector<NamedReference> all;
    for (const auto& group : {captures(), checks(), histories(), budgets(), benches()})
        all.insert(all.end(), group.begin(), group.end());
    return all;
}

NamedReference referenceState(const std::string& name)
{
    for (auto& state : referenceStates())
        if (state.name == name)
            return state;
    throw std::invalid_argument("no state '" + name + "' of the Reference page");
}

} // namespace couplet
