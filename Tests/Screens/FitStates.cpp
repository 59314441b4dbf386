// SPDX-License-Identifier: GPL-3.0-or-later
#include "FitStates.h"

#include "ShownTexts.h"
#include "States.h"

#include <stdexcept>

namespace couplet {
namespace {

constexpr int fitPageIndex = 2;
constexpr std::size_t silicone = 3;

FitView with(FitView view, const std::function<void(FitView&)>& change)
{
    change(view);
    return view;
}

FitView changed(const std::function<void(FitInput&)>& change)
{
    auto input = sketchedReadings();
    change(input);
    return fitOf(input, sketchedFit());
}

FitView empty()
{
    FitView view = fitOf(FitInput{}, sketchedFit());
    view.target = {FitKind::fitting, 0};
    view.canUndo = false;
    view.undoText.clear();
    return view;
}

FitView capturing(FitCaptureState state)
{
    FitView view = sketchedFit();
    view.capture = state;
    view.progress = 0.62;
    view.tone_dB = 114.70;
    view.lastKept_dB = 114.72;
    view.kept = 4;
    view.captureText = "silicone collar · 4 readings";
    view.scaleText = "dBFS + 123.33 dB: as the reference has it";
    view.captureNotice = state == FitCaptureState::lift ? "Take the microphone off; the next reading counts when the "
                                                          "tone has been away."
                                                        : "The tone is steady; hold still.";
    return view;
}

FitView odd()
{
    return changed([](FitInput& input) {
        auto& collar = input.fittings[silicone].readings;
        for (const double level_dB : {114.70, 114.71, 114.69})
            collar.push_back({level_dB, {}, 620.0, {}, {}});
        collar.push_back({115.62, {}, 700.0, {}, {}});
        collar[1].setAside = "the adapter slipped when the cable was pulled";
    });
}

FitView contradicting()
{
    return changed([](FitInput& input) {
        input.earphones[0].level_dB += 3.4;
        input.earphones[1].level_dB += 3.4;
    });
}

// Two tight fittings far apart, and nothing to choose between them.
FitView twoPeaks()
{
    return changed([](FitInput& input) {
        input.earphones.clear();
        input.fittings.erase(input.fittings.begin(), input.fittings.begin() + 2);
        for (std::size_t i = 0; i < 2; ++i)
            for (std::size_t r = 0; r < 4; ++r)
                input.fittings[i].readings[r].level_dB = (i == 0 ? 117.3 : 114.3) + 0.01 * static_cast<double>(r);
    });
}

FitView longNames()
{
    return changed([](FitInput& input) {
        input.fittings[0].name = "Adaptateur nu, ancien modèle, sans la bague d'étanchéité ni le joint";
        input.fittings[silicone].name = "シリコーン製の襟を二重に巻いたアダプター、青色";
        input.earphones[0].name = "Ακουστικό with the medium foam tip and the balanced cable, second pair";
        input.earphones[1].keptAside = true;
        input.earphones[2].setAside = "not read yet";
    });
}

FitView whatIf()
{
    FitView view = sketchedFit();
    FitWhatIf answer;
    answer.wantedU_dB = 0.54;
    answer.more =
        readingsForU(view.fit->evidence, view.fit->through->count, *view.fit->through->scatter_dB, answer.wantedU_dB);
    for (const auto& [a, b] : view.fit->notToldApart) {
        const auto& fittings = view.fit->evidence.fittings;
        const double kappa = *view.fit->posterior.kappa;
        answer.pairs.push_back({a, b, readingsToTellApart(fittings[a], fittings[b], kappa),
                                readingsToTellApart(fittings[b], fittings[a], kappa)});
    }
    view.whatIf = answer;
    return view;
}

void openInsertions(FitPage& page)
{
    page.readings.table.toggle({FitKind::earphone, 0});
    page.readings.table.select({FitRow::What::reading, {FitKind::earphone, 0}, 2});
}

void openReadings(FitPage& page)
{
    page.readings.table.toggle({FitKind::fitting, silicone});
    page.readings.table.select({FitRow::What::reading, {FitKind::fitting, silicone}, 1});
}

std::vector<NamedFit> results()
{
    return {{"fit", sketchedFit()},
            {"fit-readings", odd(), openReadings},
            {"fit-insertions", insertedFit(), openInsertions},
            {"fit-insertions-aside", insertedFit(),
             [](FitPage& page) {
                 page.readings.table.toggle({FitKind::earphone, 2});
                 page.readings.table.select({FitRow::What::reading, {FitKind::earphone, 2}, 1});
             }},
            {"fit-contradicts", contradicting()},
            {"fit-peaks", twoPeaks()},
            {"fit-why", sketchedFit(), [](FitPage& page) { page.openWhy(true); }},
            {"fit-whatif", whatIf(), [](FitPage& page) { page.openWhatIf(true); }},
            {"fit-bare", with(changed([](FitInput& i) { i.settings.microphoneBuiltIn = false; }),
                              [](FitView& v) { v.canUseNone = true; })},
            {"fit-bare-none", with(changed([](FitInput& i) { i.settings.microphoneBuiltIn = false; }),
                                   [](FitView& v) { v.stored.reset(); })},
            {"fit-many", manyFit(64, 200, 10000)},
            {"fit-noearphone", changed([](FitInput& i) { i.earphones.clear(); })},
            {"fit-names", longNames()},
            {"fit-far", changed([](FitInput& i) {
                 for (auto& reading : i.fittings[0].readings)
                     reading.level_dB += 40.0;
             })},
            {"fit-wide", changed([](FitInput& i) {
                 i.earphones[0].tolerance_dB = 30.0;
                 i.earphones[1].level_dB += 12.0;
                 i.earphones[2].tolerance_dB = 6.0;
             })}};
}

std::vector<NamedFit> otherwise()
{
    const auto notUsed = with(sketchedFit(), [](FitView& v) {
        v.canUse = false;
        v.whyNotUse = "No coupler is chosen: choose the one that this correction is for, with the key C.";
        v.coupler.clear();
        v.stored.reset();
    });
    const auto used = with(sketchedFit(), [](FitView& v) {
        v.used = "The coupler takes 1.44 dB from now on. Earphone P, earphone Q and earphone R are marked as having "
                 "chosen it. The reference in force was taken with another correction: take it again.";
    });
    const auto refused = with(sketchedFit(), [](FitView& v) {
        v.notice = "readings.csv, line 7: 'about 115' is no level; write it in dB, such as 115.29.";
    });
    const auto another = with(sketchedFit(), [](FitView& v) { v.readOn = "Ear simulator, right bench"; });
    const auto notJoined = with(another, [](FitView& v) {
        v.notice = "These readings are of 'Ear simulator, right bench', and 'Ear simulator, left bench' is chosen: "
                   "choose the coupler that they are of, or clear all readings to begin anew.";
    });
    const auto pasted =
        with(sketchedFit(), [](FitView& v) { v.told = "12 readings were taken, into 'silicone collar'."; });
    const auto askedTwice = with(another, [](FitView& v) {
        v.notice =
            "These readings are of 'Ear simulator, right bench', and 'Ear simulator, left bench' is chosen: press "
            "again to keep the correction in 'Ear simulator, left bench' all the same.";
    });
    const auto unread = with(changed([](FitInput& i) {
                                 i.earphones[1].setAside = notReadYet;
                                 i.earphones[1].u_dB.reset();
                             }),
                             [](FitView& v) {
                                 v.promises.resize(v.input.earphones.size());
                                 v.promises[1] = FitPromise{92.3456, "123.2 mV"};
                                 v.target = {FitKind::earphone, 1};
                             });
    const auto inserted = with(sketchedFit(), [](FitView& v) {
        v.input.earphones[0].level_dB = 96.1834;
        v.input.earphones[0].u_dB = 0.1251;
        for (const double level_dB : {96.1, 96.2, 96.2502})
            v.input.earphones[0].insertions.push_back({level_dB});
        v.target = {FitKind::earphone, 0};
    });
    const auto uncertain = changed([](FitInput& i) {
        i.settings.u_calibrator_dB.reset();
        i.earphones[2].u_dB.reset();
        i.earphones[1].setAside = "its tip was torn";
    });
    const auto simulated = with(sketchedFit(), [](FitView& v) {
        v.simulated = v.working = true;
        v.coupler = "simulated ear simulator";
    });
    const auto ask = [](FitPage& page) { page.readings.askReading(); };
    const auto correct = [](FitPage& page) {
        page.readings.table.select({FitRow::What::earphone, {FitKind::earphone, 0}, 0});
        page.readings.rowMenu().take("correct it");
    };
    const auto askFive = [](FitPage& page) { page.readings.addMenu().take("an earphone, typed"); };
    return {
        {"fit-empty", empty()},
        {"fit-half", changed([](FitInput& i) {
             i.through.readings.clear();
             i.earphones.clear();
             i.fittings.resize(1);
             i.fittings[0].readings.resize(1);
         })},
        {"fit-capturing", capturing(FitCaptureState::reading)},
        {"fit-waiting", with(capturing(FitCaptureState::waiting),
                             [](FitView& v) {
                                 v.target = {FitKind::through, 0};
                                 v.tone_dB.reset();
                                 v.lastKept_dB.reset();
                                 v.simulated = true;
                                 v.captureNotice =
                                     "It waits for a steady tone of 1 kHz: the level still falls by 0.3 dB a second.";
                             })},
        {"fit-lift", capturing(FitCaptureState::lift)},
        {"fit-lift-simulated", with(capturing(FitCaptureState::lift), [](FitView& v) { v.simulated = true; })},
        {"fit-unusable", notUsed},
        {"fit-used", used},
        {"fit-refused", refused},
        {"fit-uncertain", uncertain},
        {"fit-simulated", simulated},
        {"fit-another", another},
        {"fit-asked", askedTwice},
        {"fit-notjoined", notJoined},
        {"fit-pasted", pasted},
        {"fit-typing", sketchedFit(), ask},
        {"fit-unread", unread, ask},
        {"fit-correcting", inserted, correct},
        {"fit-earphone", sketchedFit(), askFive}};
}

// The bench below a simulated fit.
LiveView playingSimulated()
{
    LiveView live = stateNamed("simulated");
    live.onSimulatedCoupler = {OnCoupler::What::calibrator, 0, Side::left, {}};
    return live;
}

} // namespace

// The engine takes its time over thousands of readings: they are worked out once.
const std::vector<NamedFit>& fitStates()
{
    static const std::vector<NamedFit> all = [] {
        auto both = results();
        for (auto& state : otherwise())
            both.push_back(std::move(state));
        return both;
    }();
    return all;
}

const NamedFit& fitNamed(const std::string& name)
{
    for (const auto& state : fitStates())
        if (state.name == name)
            return state;
    throw std::invalid_argument("no state '" + name + "' of the Fit page");
}

void show(MainView& window, FitControls& controls, const NamedFit& state)
{
    window.connectFit(controls);
    window.show(state.view.simulated ? playingSimulated() : agreeing());
    window.openPage(fitPageIndex);
    window.showFit(state.view);
    state.prepare(fitPageOf(window));
}

FitPage& fitPageOf(MainView& window)
{
    auto* page = find<FitPage>(window);
    if (page == nullptr)
        throw std::logic_error("the Fit page is not shown");
    return *page;
}

} // namespace couplet
