// SPDX-License-Identifier: GPL-3.0-or-later
#include "IdleControls.h"
#include "Screens/Canvas.h"
#include "Screens/DifferencePicture.h"
#include "Screens/TrendPicture.h"
#include "Screens/Words.h"
#include "ShownTexts.h"
#include "States.h"
#include "Workbench.h"

#include "Metrology/Expanded.h"

#include <catch2/catch.hpp>

#include <functional>

using namespace couplet;

namespace {

struct Window
{
    IdleControls controls;
    MainView view{controls};

    explicit Window(const LiveView& shown, int width = 1100, int height = 720)
    {
        view.setVisible(true);
        view.setSize(width, height);
        view.show(shown);
    }
    bool shows(const std::string& part) { return couplet::shows(view, part); }
};

} // namespace

TEST_CASE("the sketch's reading shows its numbers, both sums and the verdict")
{
    Window w(agreeing());
    for (const char* text : {"Measured",
                             "93.97",
                             "±0.53",
                             "dB SPL",
                             "tone at the input, 500.01 Hz",
                             "−28.05",
                             "offset of this coupler",
                             "+121.97",
                             "microphone response taken out",
                             "+0.05",
                             "at the coupler microphone",
                             "Expected",
                             "93.86",
                             "±1.00",
                             "drive 123.2 mV open circuit, in dBV",
                             "−18.19",
                             "rated, dB SPL for 1 V at 500 Hz",
                             "+112.40",
                             "source 1 Ω into 24 Ω",
                             "−0.35",
                             "at the rated sensitivity",
                             "Difference",
                             "+0.11",
                             "agrees within ±1.35",
                             "earphone S, left",
                             "500.01 Hz",
                             "±0.01 dB",
                             "0.08 %",
                             "31.4 dB SPL",
                             "28.0 dB",
                             "57 dB",
                             "ear-like",
                             "Referenced 2 h ago",
                             "offset U = ±0.47 dB (95 %)",
                             "Ear simulator, left bench",
                             "slot 1",
                             "mic: in 1",
                             "drive: typed",
                             "do not monitor this track",
                             "Coupler levels are not free-field levels."})
        CHECK(w.shows(text));
}

TEST_CASE("the header says what becomes of the input at the output")
{
    CHECK(Window(agreeing()).shows("do not monitor this track"));
    CHECK_FALSE(Window(agreeing()).shows("no guard"));
    CHECK(Window(stateNamed("not-passed-on")).shows("the input is not passed on"));
    CHECK_FALSE(Window(stateNamed("not-passed-on")).shows("do not monitor"));
    CHECK(Window(stateNamed("no-loop-guard")).shows("no guard: do not monitor"));
}

TEST_CASE("verdicts are said in words")
{
    CHECK(Window(stateNamed("differing")).shows("differs beyond ±1.35"));
    CHECK(Window(stateNamed("too-uncertain")).shows("too uncertain to say"));
    CHECK(Window(stateNamed("too-uncertain")).shows("'tolerance of the rating'"));
    CHECK(Window(stateNamed("no-tolerance")).shows("cannot be judged"));
    CHECK(Window(stateNamed("no-tolerance")).shows("the rating's tolerance is not stated"));
    CHECK(Window(stateNamed("no-proof")).shows("agrees within ±1.35; no proof"));
}

TEST_CASE("a coupler without a reference shows dBFS and why, and its measured level never as dB SPL")
{
    Window w(stateNamed("unreferenced"));
    CHECK(w.shows("−28.05"));
    CHECK(w.shows("dBFS"));
    CHECK(w.shows("has no reference"));
    CHECK(w.shows("No reference yet"));
    CHECK_FALSE(w.shows("93.97"));
    auto noExpected = stateNamed("unreferenced");
    noExpected.reading.expected.reset();
    CHECK_FALSE(Window(noExpected).shows("dB SPL"));
    for (const auto size : {760, 1100})
        CHECK(Window(stateNamed("everything"), size, size == 760 ? 520 : 720).shows("until one is taken"));
}

TEST_CASE("what hinders a reading is said in words")
{
    CHECK(Window(stateNamed("stale")).shows("Stale, referenced 30 h ago"));
    CHECK(Window(stateNamed("no-tone")).shows("no tone stands out of the noise"));
    CHECK(Window(stateNamed("no-audio")).shows("no audio"));
    CHECK_FALSE(Window(stateNamed("no-audio")).shows("93.97"));
    CHECK(Window(stateNamed("clipped")).shows("clipped, 1214×"));
    CHECK(Window(stateNamed("unsteady")).shows("unsteady"));
    CHECK(Window(stateNamed("no-drive")).shows("no drive voltage was given"));
    CHECK(Window(stateNamed("other-frequency")).shows("the rating holds at 500 Hz only"));
    CHECK(Window(stateNamed("no-earphone")).shows("choose an earphone"));
    CHECK(Window(stateNamed("offline-lost")).shows("3 estimates were lost"));
    CHECK(Window(stateNamed("offline-lost")).shows("faster than real time"));
    CHECK(Window(stateNamed("refused-state")).shows("saved by a newer version"));
    CHECK(Window(stateNamed("waiting-switch")).shows("waits until the capture ends"));
    CHECK(Window(stateNamed("held")).shows("held"));
}

TEST_CASE("a simulated bench is called simulated beside every number")
{
    Window w(stateNamed("simulated"));
    int count = 0;
    for (const auto& text : shownTexts(w.view))
        count += text.text.find("simulated") != std::string::npos ? 1 : 0;
    CHECK(count >= 6); // microphone, measured, difference, expected, checks, last minute
    w.view.setFarView(true);
    CHECK(w.shows("simulated"));
}

TEST_CASE("digits keep their colours in every state")
{
    for (const auto& state : allStates()) {
        Window w(state.view);
        INFO(state.name);
        int numbers = 0;
        const std::function<void(juce::Component&)> visit = [&](juce::Component& c) {
            if (!c.isVisible())
                return;
            if (auto* canvas = dynamic_cast<Canvas*>(&c))
                for (const auto& text : canvas->picture().texts)
                    if (text.style.size > 60.0f) {
                        ++numbers;
                        CHECK(text.style.colour ==
                              (canvas->getTitle() == "Measured" ? colours::measured : colours::expected));
                    }
            for (auto* child : c.getChildren())
                visit(*child);
        };
        visit(w.view);
        const bool silent = state.view.reading.measured == std::nullopt || !state.view.audioRuns;
        CHECK((numbers > 0) == !silent);
    }
}

TEST_CASE("the far view has one decimal, the unit and the verdict")
{
    Window w(agreeing());
    w.view.setFarView(true);
    CHECK(w.shows("94.0"));
    CHECK(w.shows("dB SPL"));
    CHECK(w.shows("agrees"));
    CHECK(w.shows("Ear simulator, left bench"));
    CHECK_FALSE(w.shows("93.97"));
    float largest = 0.0f;
    for (const auto& text : shownTexts(w.view))
        largest = std::max(largest, text.ink.getWidth());
    CHECK(largest > 900.0f); // it fills the window
}

TEST_CASE("the offset's U is the one of the coupler's reference")
{
    const Workbench bench = sketchedBench();
    const auto offset = offsetInForce(bench.setup);
    REQUIRE(offset);
    const auto U = offsetUncertainty(makeReading(bench.tone, bench.setup));
    REQUIRE(U);
    CHECK(U->U_dB == Approx(expand(offset->budget).U_dB));
}

TEST_CASE("ages are told in the unit that fits them")
{
    CHECK(ageText(20.0) == "just now");
    CHECK(ageText(720.0) == "12 min ago");
    CHECK(ageText(7200.0) == "2 h ago");
    CHECK(ageText(30.0 * 3600.0) == "30 h ago");
    CHECK(ageText(3.0 * 86400.0) == "3 days ago");
}

TEST_CASE("the scale reaches beyond the difference and the band")
{
    CHECK(scaleReach_dB(agreeing().reading) == 3.0);
    CHECK(scaleReach_dB(stateNamed("differing-far").reading) == 24.0);
    LiveView wild = agreeing();
    wild.reading.difference->D_dB = -300.0;
    CHECK(scaleReach_dB(wild.reading) == 60.0);
}

TEST_CASE("the last minute's range holds every level and the expected one")
{
    LiveView view = agreeing();
    view.trend.back().level_dB = 71.2;
    const auto range = trendRange(view);
    CHECK(range.low_dB < 71.2);
    CHECK(range.high_dB > 93.97);
    CHECK((range.high_dB - range.low_dB) / range.step_dB < 4.6);
}

TEST_CASE("opened notes show every note at every size")
{
    for (const char* name : {"agreeing", "disturbed", "everything"}) {
        const LiveView view = stateNamed(name);
        for (const int width : {760, 1100}) {
            Window w(view, width, width == 760 ? 520 : 720);
            w.view.openNotes(true);
            std::string all;
            for (const auto& text : shownTexts(w.view))
                all += text.text + " ";
            for (const auto* notes : {&view.reading.notes, &view.reading.standing})
                for (const auto& note : *notes) {
                    INFO(name << " at " << width);
                    CHECK_THAT(all, Catch::Contains(note));
                }
        }
    }
}

TEST_CASE("what holds for every reading stands in the notes' list alone")
{
    Window w(agreeing());
    CHECK_FALSE(w.shows("one insertion"));
    CHECK_FALSE(w.shows("room pressure"));
    CHECK(press(w.view, "2 notes"));
    CHECK(w.shows("one insertion is assumed as u 0.11 dB"));
    CHECK(w.shows("room pressure is not in U"));
    CHECK(press(w.view, "close the notes"));
    Window proof(stateNamed("no-proof")); // beside one of its own
    CHECK(proof.shows("this earphone took part in choosing"));
    CHECK(press(proof.view, "2 more notes"));
}
