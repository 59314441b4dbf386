// SPDX-License-Identifier: GPL-3.0-or-later
#include "States.h"

#include "InventedSpectrum.h"
#include "Workbench.h"

#include <functional>

#include <stdexcept>

namespace couplet {
namespace {

constexpr const char* noToneWhy =
    "no tone stands out of the noise: is it playing, and is this the microphone's channel?";

LiveView changed(const std::function<void(Workbench&)>& change)
{
    Workbench bench = sketchedBench();
    change(bench);
    return bench.view();
}

LiveView with(LiveView view, const std::function<void(LiveView&)>& change)
{
    change(view);
    return view;
}

std::vector<NamedView> verdicts()
{
    return {{"agreeing", agreeing()},
            {"differing", changed([](Workbench& b) { b.tone.level_dBFS = -29.94; })},
            {"differing-far", changed([](Workbench& b) { b.tone.level_dBFS = -41.3; })},
            {"too-uncertain", changed([](Workbench& b) { b.setup.earphone->rating.tolerance_dB = 3.0; })},
            {"no-tolerance", changed([](Workbench& b) {
                 b.setup.earphone->rating.tolerance_dB.reset();
                 b.setup.earphone->rating.frequency.reset();
                 b.setup.drive->meterAccuracy.reset();
             })},
            {"no-proof", changed([](Workbench& b) {
                 b.setup.coupler->references.back().correction->chosenBy = {b.setup.earphone->name};
             })},
            {"other-frequency", changed([](Workbench& b) { b.tone.frequency = Hertz(1000.02); })}};
}

LiveView longNames()
{
    const std::string coupler = "Simulateur d'oreille du banc de gauche, \u00e9quip\u00e9 de son ancien "
                                "pr\u00e9amplificateur et d'une rallonge";
    LiveView view = changed([&coupler](Workbench& b) {
        b.setup.coupler->name = coupler;
        b.setup.earphone->name = "\u0391\u03ba\u03bf\u03c5\u03c3\u03c4\u03b9\u03ba\u03cc with the medium foam tip "
                                 "and the balanced cable";
    });
    view.slotNames[0] = coupler;
    return view;
}

std::vector<NamedView> benches()
{
    return {{"unreferenced", changed([](Workbench& b) { b.setup.coupler->references.clear(); })},
            {"stale", changed([](Workbench& b) { b.setup.now = "2026-05-04T18:04:11Z"; })},
            {"nothing-chosen", changed([](Workbench& b) { b.setup = Setup{}; })},
            {"no-earphone", changed([](Workbench& b) {
                 b.setup.earphone.reset();
                 b.setup.side.clear();
             })},
            {"no-drive", changed([](Workbench& b) { b.setup.drive.reset(); })},
            {"sensed", changed([](Workbench& b) {
                 b.setup.driveFullScale = Volts(2.0);
                 b.tone.second_dBFS = -24.21;
             })},
            {"long-names", longNames()}};
}

std::vector<NamedView> tones()
{
    return {{"no-tone", changed([](Workbench& b) { b.tone = silence(noToneWhy); })},
            {"clipped", changed([](Workbench& b) {
                 b.tone.clippedSamples = 1214;
                 b.tone.level_dBFS = 0.31;
                 b.tone.headroom_dB = 0.0;
                 b.tone.distortion_percent = 3.72;
             })},
            {"unsteady", changed([](Workbench& b) {
                 b.tone.steadiness_dB = 0.31;
                 b.tone.scatter_dB = 0.14;
             })},
            {"disturbed", changed([](Workbench& b) {
                 b.tone.steadiness_dB = 0.31;
                 b.tone.disturbances = 3;
                 b.tone.hum_dBFS = -50.0;
                 b.tone.dc_dBFS = -31.0;
                 b.tone.brokenSamples = 12;
                 b.tone.frequency = Hertz(80.02);
             })},
            {"begun-anew", changed([](Workbench& b) {
                 b.tone.steadiness_dB.reset();
                 b.tone.distortion_percent.reset();
                 b.tone.stretch_s = 0.0;
                 b.tone.brokenSecondSamples = 96000;
             })},
            {"not-alone", changed([](Workbench& b) {
                 ToneEstimate e;
                 b.tone = silence(whyNoTone(NoTone::notAlone, e).c_str());
             })}};
}

std::vector<NamedView> hosts()
{
    const LiveView good = agreeing();
    return {{"no-audio", with(good, [](LiveView& v) { v.audioRuns = false; })},
            {"howl-muted", with(good, [](LiveView& v) { v.loopMuted = true; })},
            {"not-passed-on", with(good, [](LiveView& v) { v.passInput = PassInput::notAtAll; })},
            {"no-loop-guard", with(good, [](LiveView& v) { v.passInput = PassInput::unguarded; })},
            {"held", with(good, [](LiveView& v) { v.hold = true; })},
            {"simulated", with(good,
                               [](LiveView& v) {
                                   v.simulated = true;
                                   v.onSimulatedCoupler = {OnCoupler::What::earphone, 3, Side::left, {}};
                                   v.microphoneText = "mic: simulated";
                                   v.driveText = "drive: simulated";
                               })},
            {"inputs-named-at-length", with(good,
                                            [](LiveView& v) {
                                                v.microphoneText = "mic: simulated bench";
                                                v.driveText = "drive: simulated, open circuit";
                                            })},
            {"offline-lost", with(good,
                                  [](LiveView& v) {
                                      v.offline = true;
                                      v.lostEstimates = 3;
                                  })},
            {"refused-state",
             with(good,
                  [](LiveView& v) {
                      v.stateNotice =
                          "This session was saved by a newer version (state 4, this one reads up to 1): it is "
                          "kept untouched; open it with the newer version.";
                  })},
            {"waiting-switch",
             with(good, [](LiveView& v) { v.couplerNotice = "The switch to slot 2 waits until the capture ends."; })}};
}

std::vector<NamedView> gaps()
{
    LiveView broken = agreeing();
    for (std::size_t i = 90; i < 140; ++i)
        broken.trend[i].level_dB.reset();
    LiveView worst = changed([](Workbench& b) {
        b.setup.coupler->references.clear();
        b.setup.earphone->rating.frequency.reset();
        b.setup.earphone->rating.impedance.reset();
        b.tone.steadiness_dB = 0.31;
        b.tone.clippedSamples = 7;
    });
    worst.loopMuted = worst.hold = worst.simulated = true;
    worst.couplerNotice = "The switch to slot 2 waits until the capture ends.";
    return {{"gaps", broken}, {"everything", worst}};
}

LiveView withSpectrum(LiveView view, const InventedBench& bench)
{
    view.spectrum = inventedSpectrum(bench);
    return view;
}

std::vector<NamedView> spectra()
{
    constexpr int spectrum = 1, orders = 2;
    const InventedBench working;
    InventedBench bare = working, soundless = working, lateTable = working, high = working;
    bare.referenced = bare.responseTakenOut = false;
    bare.shift_dB = -121.97;
    soundless.tone_dB.reset();
    lateTable.tableFrom_Hz = 63.0;
    lateTable.tableTo_Hz = 12500.0;
    high.tone_Hz = 6300.0;
    const LiveView good = agreeing(), quiet = stateNamed("no-tone"), strange = stateNamed("unreferenced");
    LiveView gathering = good, high6300 = withSpectrum(good, high), whyNot = good;
    gathering.spectrum.reset();
    high6300.reading.tone.frequency = Hertz(6300.0);
    whyNot.spectrum = SpectrumReading{};
    whyNot.spectrum->whyNot = "the input holds samples that are no numbers: the spectrum waits for a whole stretch";
    LiveView all = withSpectrum(stateNamed("everything"), bare);
    return {{"spectrum", withSpectrum(good, working), spectrum},
            {"spectrum-unreferenced", withSpectrum(strange, bare), spectrum},
            {"spectrum-gathering", gathering, spectrum},
            {"spectrum-why-not", whyNot, spectrum},
            {"spectrum-no-tone", withSpectrum(quiet, soundless), spectrum},
            {"spectrum-no-audio", withSpectrum(stateNamed("no-audio"), working), spectrum},
            {"spectrum-gaps", withSpectrum(good, lateTable), spectrum},
            {"spectrum-simulated", withSpectrum(stateNamed("simulated"), working), spectrum},
            {"spectrum-everything", all, spectrum},
            {"orders", withSpectrum(good, working), orders},
            {"orders-few", high6300, orders},
            {"orders-no-tone", withSpectrum(quiet, soundless), orders},
            {"orders-simulated", withSpectrum(stateNamed("simulated"), working), orders}};
}

std::vector<NamedView> withoutSpectra()
{
    std::vector<NamedView> all;
    for (const auto& group : {verdicts(), benches(), tones(), hosts(), gaps()})
        all.insert(all.end(), group.begin(), group.end());
    return all;
}

const NamedView& named(const std::vector<NamedView>& states, const std::string& name)
{
    for (const auto& state : states)
        if (state.name == name)
            return state;
    throw std::invalid_argument("no state '" + name + "'");
}

} // namespace

void show(MainView& window, const NamedView& state)
{
    window.show(state.view);
    window.openView(state.opened);
}

LiveView agreeing()
{
    return sketchedBench().view();
}

std::vector<NamedView> allStates()
{
    auto all = withoutSpectra();
    for (auto& state : spectra())
        all.push_back(std::move(state));
    return all;
}

NamedView wholeState(const std::string& name)
{
    return named(allStates(), name);
}

LiveView stateNamed(const std::string& name)
{
    return named(withoutSpectra(), name).view;
}

} // namespace couplet
