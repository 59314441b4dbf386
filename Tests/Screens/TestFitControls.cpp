// SPDX-License-Identifier: GPL-3.0-or-later
#include "FitWindow.h"

#include <functional>

using namespace couplet;
using Window = couplet::tests::FitWindow;
using couplet::tests::Asked;
using couplet::tests::Key;

namespace {

constexpr FitTarget silicone{FitKind::fitting, 3};
constexpr FitTarget earphoneQ{FitKind::earphone, 1};

} // namespace

TEST_CASE("N, the space bar, R and G work the capture, also while nothing has the keyboard")
{
    Window w(sketchedFit());
    for (const int code : {static_cast<int>('N'), static_cast<int>(Key::spaceKey), static_cast<int>('G')})
        CHECK(w.view.keyPressed(Key(code)));
    CHECK(w.view.keyPressed(Key('R')));
    CHECK(w.shows("Reading of silicone collar, dB"));
    Window armed(fitNamed("fit-capturing"));
    CHECK(armed.view.keyPressed(Key('G')));
    CHECK(armed.press("take one now"));
    CHECK(armed.press("next group"));
    CHECK(armed.press("end the capture"));
    CHECK(armed.view.keyPressed(Key(Key::escapeKey)));
    CHECK(w.fit.asked == Asked{"next", "take", "capture"});
    CHECK(armed.fit.asked == Asked{"no capture", "take", "next", "no capture", "no capture"});
}

TEST_CASE("the keys of the Fit page are its own")
{
    Window w(sketchedFit());
    w.view.openPage(0);
    CHECK_FALSE(w.view.keyPressed(Key('N')));
    CHECK_FALSE(w.view.keyPressed(Key(Key::spaceKey)));
    CHECK(w.fit.asked.empty());
    w.view.openPage(2);
    CHECK(w.view.keyPressed(Key('F'))); // the far view is over every page
    CHECK(w.view.showsFarView());
    CHECK_FALSE(w.view.keyPressed(Key('N')));
}

TEST_CASE("readings are typed one after another, with a decimal comma too, and what is no level is refused")
{
    Window w(sketchedFit());
    CHECK(w.press("+ reading"));
    w.type({"about 115"});
    CHECK(w.shows("'about 115' is no level"));
    CHECK(w.fit.asked.empty());
    CHECK(w.form().field(0).words() == "about 115"); // stays to be mended
    w.type({"114,72"});
    CHECK(w.form().isAsking());
    CHECK(w.form().field(0).words().empty());
    w.type({" 114.69 dB"});
    for (const char* wrong : {"", "1e999", "-201", "301", "114.7.1", "nan"})
        w.type({wrong});
    w.form().leave();
    CHECK_FALSE(w.form().isAsking());
    CHECK(w.fit.asked == Asked{"reading fitting 3 114.72", "reading fitting 3 114.69"});
}

TEST_CASE("selecting a row sends the next reading there")
{
    Window w(sketchedFit());
    w.table().selectRow(0);
    w.table().selectRow(4);
    w.table().selectRow(6);
    CHECK(w.fit.asked == Asked{"target fitting 0", "target through", "target earphone 1"});
}

TEST_CASE("a target chosen elsewhere is selected and highlighted without being asked for again")
{
    Window w(sketchedFit());
    auto view = sketchedFit();
    view.target = {FitKind::through, 0};
    view.revision += 10;
    w.view.showFit(view);
    REQUIRE(w.table().selectedRow() != nullptr);
    CHECK(w.table().selectedRow()->what == FitRow::What::through);
    CHECK(w.fit.asked.empty());
}

TEST_CASE("a reading is corrected, set aside with a reason, and put back")
{
    Window w(fitNamed("fit-readings"));
    w.table().select({FitRow::What::reading, silicone, 0});
    CHECK(Window::key(w.table(), Key::returnKey));
    CHECK(w.form().field(0).words() == "114.653");
    w.type({"114.66"});
    CHECK(Window::key(w.table(), Key::deleteKey));
    w.type({"  "});
    CHECK(w.shows("A reading is set aside with a reason"));
    w.type({"the cable was pulled"});
    w.table().select({FitRow::What::reading, silicone, 1}); // set aside already
    CHECK(Window::key(w.table(), Key::deleteKey));
    CHECK(w.page().readings.rowMenu().take("correct its level"));
    CHECK(w.form().field(0).words() == "114.693");
    CHECK(w.fit.asked ==
          Asked{"change fitting 3 0 114.66", "aside fitting 3 0 'the cable was pulled'", "aside fitting 3 1 ''"});
}

TEST_CASE("fittings are added, renamed and removed, and no two have one name")
{
    Window w(sketchedFit());
    CHECK(w.page().readings.addMenu().take("a fitting"));
    w.type({" felt ring "});
    CHECK(w.page().readings.addMenu().take("a fitting"));
    w.type({""});
    w.table().select({FitRow::What::fitting, silicone, 0});
    CHECK(Window::key(w.page().readings, Key::F2Key));
    w.type({"cork sleeve"});
    CHECK(w.shows("Another fitting has this name already"));
    w.type({""});
    CHECK(w.shows("A fitting needs a name."));
    w.type({"soft collar"});
    CHECK(Window::key(w.table(), Key::deleteKey));
    CHECK(w.fit.asked == Asked{"fitting 'felt ring'", "fitting ''", "rename 3 soft collar", "remove fitting 3"});
}

TEST_CASE("a fitting that is renamed stays open")
{
    Window w(fitNamed("fit-readings"));
    w.table().select({FitRow::What::fitting, silicone, 0});
    w.page().readings.rowMenu().take("rename it");
    w.type({"soft collar"});
    auto view = fitNamed("fit-readings").view;
    view.input.fittings[3].name = "soft collar";
    view = fitOf(view.input, view);
    view.revision += 10;
    w.view.showFit(view);
    CHECK(w.shows("reading 2"));
}

TEST_CASE("earphones come from the library or are typed, are kept aside, set aside and removed")
{
    Window w(sketchedFit());
    CHECK_FALSE(w.page().readings.addMenu().take("what was written down on the simulated bench"));
    CHECK(w.page().readings.addMenu().take("earphone R"));
    CHECK(w.page().readings.addMenu().take("an earphone, typed"));
    REQUIRE(w.form().fieldCount() == 5);
    w.type({"", "95.1", "93.5", "", ""});
    CHECK(w.shows("An earphone needs a name."));
    w.type({"earphone T", "95.1", "loud", "", ""});
    CHECK(w.shows("'loud' is no level"));
    w.type({"earphone T", "95.1", "93.5", "wide", ""});
    CHECK(w.shows("Rated tolerance: write 0 to 20 dB"));
    w.type({"earphone T", "95,1", "93.5", "±1", "0.24"});
    CHECK(w.fit.typed.says_dB() == Approx(1.6));
    CHECK(w.fit.typed.tolerance_dB == 1.0);
    CHECK(w.fit.typed.u_dB == 0.12);
    w.table().select({FitRow::What::earphone, earphoneQ, 0});
    CHECK(w.page().readings.rowMenu().take("keep it aside, to prove with"));
    CHECK(w.page().readings.rowMenu().take("set it aside, with a reason"));
    w.type({"its tip was torn"});
    CHECK(Window::key(w.table(), Key::deleteKey));
    w.table().select({FitRow::What::earphone, {FitKind::earphone, 3}, 0});
    CHECK(w.page().readings.rowMenu().take("let it take part"));
    CHECK(w.fit.asked == Asked{"earphone earphone R", "earphone typed earphone T", "keep earphone 1",
                               "aside earphone 1 'its tip was torn'", "remove earphone 1", "let earphone 3"});
}

TEST_CASE("the simulated bench's papers can be filled in while it plays")
{
    auto view = sketchedFit();
    view.canFillFromSimulation = true;
    Window w(view);
    CHECK(w.page().readings.addMenu().take("what was written down on the simulated bench"));
    CHECK(w.fit.asked == Asked{"fill"});
}

TEST_CASE("tables come from the clipboard, from a file and by dropping one")
{
    Window w(sketchedFit());
    CHECK(Window::command(w.view, 'V')); // nothing is there
    CHECK(w.shows("nothing to paste"));
    w.clipboard = "direct\tcollar\t114.7";
    CHECK(Window::command(w.view, 'V'));
    CHECK(w.page().readings.rowMenu().take("paste a table in place of what is here, or a column of readings"));
    CHECK(w.press("read from a table file"));
    w.type({""});
    CHECK(w.shows("Which file?"));
    w.type({"/bench/may.csv"});
    CHECK(Window::command(w.view, 'O'));
    CHECK(w.form().isAsking());
    w.form().leave();
    CHECK(w.view.isInterestedInFileDrag({"/bench/june.csv"}));
    w.view.filesDropped({"/bench/june.csv"}, 10, 10);
    w.view.filesDropped({"/bench/june.csv", "/bench/july.csv"}, 10, 10);
    CHECK(w.shows("drop one table"));
    CHECK_FALSE(w.view.showsChooser());
    CHECK(w.page().readings.rowMenu().take("clear all readings"));
    CHECK(w.fit.asked == Asked{"paste direct\tcollar\t114.7", "paste direct\tcollar\t114.7", "file /bench/may.csv",
                               "file /bench/june.csv", "clear"});
}

TEST_CASE("undo is a word and a key while there is something to undo")
{
    Window w(sketchedFit()), fresh(fitNamed("fit-empty"));
    CHECK(Window::command(w.view, 'Z'));
    CHECK(w.press("undo"));
    CHECK_FALSE(Window::command(fresh.view, 'Z'));
    CHECK_FALSE(fresh.press("undo"));
    CHECK(w.fit.asked == Asked{"undo", "undo"});
    CHECK(fresh.fit.asked.empty());
}

TEST_CASE("calibrator, microphone and what all fittings share are chosen above the table")
{
    Window w(sketchedFit());
    CHECK(w.page().calibratorMenu().take("Old pistonphone"));
    CHECK(w.page().calibratorMenu().take("no calibrator"));
    CHECK(w.page().microphoneMenu().take("it leaves its coupler, and goes bare into the calibrator"));
    CHECK(w.page().microphoneMenu().take("built in: another coupler of its kind carries the readings"));
    CHECK(w.page().microphoneMenu().take("from one coupler to another u 0.15 dB, adapter u 0.10 dB"));
    CHECK(w.form().field(0).words() == "0.15");
    w.type({"0.2", "4"});
    CHECK(w.shows("Adapter: write 0 to 3 dB"));
    w.type({"0.2", ""});
    CHECK(w.shows("Both are needed"));
    w.type({"0.2", "0"});
    CHECK(w.fit.asked ==
          Asked{"calibrator Old pistonphone", "calibrator ", "leaves", "built in", "uncertainties 0.2 0"});
}

TEST_CASE("what more readings would do is asked for by the wanted U")
{
    Window w(sketchedFit());
    CHECK(w.press("what would more readings do?"));
    CHECK(w.shows("U is ±0.55 dB now."));
    auto& panel = w.page().whatIf;
    for (const char* wrong : {"", "0", "-1", "21", "small"}) {
        panel.wanted.setWords(wrong);
        panel.ask();
    }
    CHECK(w.fit.asked.empty());
    panel.wanted.setWords("0,4");
    CHECK(w.press("work it out"));
    CHECK(Window::key(w.page(), Key::escapeKey));
    CHECK(w.shows("What each piece of evidence says"));
    CHECK(w.fit.asked == Asked{"what if 0.4", "no what if"});
}

TEST_CASE("the correction is used by its button, and not while the fit is of older readings")
{
    Window w(sketchedFit()), unusable(fitNamed("fit-unusable")), working(fitNamed("fit-simulated"));
    CHECK(w.press("Use 1.44 dB in this coupler"));
    CHECK(w.fit.asked == Asked{"use"});
    CHECK_FALSE(unusable.press("Use 1.44 dB in this coupler"));
    CHECK_FALSE(working.press("Use 1.44 dB in this coupler"));
}

TEST_CASE("escape closes one thing at a time")
{
    Window w(fitNamed("fit-capturing"));
    w.page().openWhy(true);
    w.page().readings.askReading();
    CHECK(Window::key(w.page(), Key::escapeKey));
    CHECK_FALSE(w.form().isAsking());
    CHECK(w.shows("Statistics"));
    CHECK(Window::key(w.page(), Key::escapeKey));
    CHECK_FALSE(w.shows("Statistics"));
    CHECK(w.fit.asked.empty());
    CHECK(Window::key(w.page(), Key::escapeKey));
    CHECK(w.fit.asked == Asked{"no capture"});
    Window idle(sketchedFit());
    CHECK_FALSE(Window::key(idle.page(), Key::escapeKey));
}
