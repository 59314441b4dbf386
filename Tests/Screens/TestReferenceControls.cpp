// SPDX-License-Identifier: GPL-3.0-or-later
#include "ReferenceWindow.h"

#include "Bench/HistoryCsv.h"
#include "Library/Scratch.h"
#include "Screens/Canvas.h"
#include "Screens/Header.h"
#include "Screens/HistoryChart.h"
#include "Screens/PressureField.h"

#include <functional>

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("each word of the page asks for what it says")
{
    ReferenceWindow idle("idle"), running("lift"), done("done");
    for (const char* word : {"Take reference, 10 s", "hands-free", "quick check, 3 s", "second level"})
        CHECK(idle.press(word));
    CHECK(idle.references.asked == Asked{"take", "hands-free", "check", "second level"});
    for (const char* word : {"Cancel", "finish with 2 seatings", "drop the newest"})
        CHECK(running.press(word));
    CHECK(running.references.asked == Asked{"cancel", "finish", "undo"});
    CHECK_FALSE(running.press("Take reference, 10 s"));
    CHECK(done.press("undo"));
    CHECK(done.references.asked == Asked{"undo"});
}

TEST_CASE("each key of the page asks for what its comment says")
{
    ReferenceWindow idle("idle"), running("lift"), done("done");
    CHECK(idle.key(Key::returnKey));
    for (const char letter : {'A', 'K', 'L', '2', '9'})
        CHECK(idle.key(letter));
    CHECK(idle.key(Key::downKey));
    CHECK_FALSE(idle.key(Key::spaceKey)); // nothing is kept yet
    CHECK_FALSE(idle.key(Key::escapeKey));
    CHECK(idle.references.asked ==
          Asked{"take", "hands-free", "check", "second level", "seatings 2", "seatings 9", "calibrator pistonphone"});
    CHECK(running.key(Key::spaceKey));
    CHECK(running.command('Z'));
    CHECK(running.key(Key::escapeKey));
    for (const int code : {static_cast<int>(Key::returnKey), int('A'), int('K'), int('L'), int('3')})
        CHECK_FALSE(running.key(code)); // it runs already
    CHECK(running.references.asked == Asked{"finish", "undo", "cancel"});
    CHECK(done.command('Z'));
    CHECK(done.references.asked == Asked{"undo"});
}

TEST_CASE("where a reference cannot be taken, its words and keys ask for nothing")
{
    ReferenceWindow w("nothing");
    CHECK_FALSE(w.key(Key::returnKey));
    CHECK_FALSE(w.key('A'));
    CHECK_FALSE(w.press("Take reference, 10 s"));
    CHECK_FALSE(w.press("quick check, 3 s"));
    CHECK(w.references.asked.empty());
}

TEST_CASE("a window without an engine of references shows the page and asks for nothing")
{
    IdleControls controls;
    MainView window(controls);
    window.setVisible(true);
    window.setSize(1100, 720);
    show(window, referenceState("idle"));
    CHECK_FALSE(window.keyPressed(Key(Key::returnKey)));
    CHECK(press(window, "Take reference, 10 s"));
    CHECK(shows(window, "+121.97"));
}

TEST_CASE("up and down go through the library's calibrators and stop at its ends")
{
    ReferenceWindow w("idle");
    CHECK(w.key(Key::upKey));
    CHECK(w.references.asked.empty());
    auto unchosen = referenceState("idle");
    unchosen.view.calibrator.clear();
    show(w.view, unchosen);
    w.key(Key::downKey);
    w.key(Key::upKey);
    CHECK(w.references.asked == Asked{"calibrator field calibrator", "calibrator pistonphone"});
    ReferenceWindow running("waiting");
    CHECK_FALSE(running.key(Key::downKey)); // what a capture began with, it ends with
}

TEST_CASE("a static pressure is typed in kPa or hPa, and refused with a sentence")
{
    ReferenceWindow w("pressure-missing");
    auto* field = find<PressureField>(w.view);
    REQUIRE(field != nullptr);
    field->setText("992 hPa");
    field->take();
    REQUIRE(w.references.pressure);
    CHECK(w.references.pressure->value == Approx(99.2));
    field->setText("101,3");
    field->take();
    CHECK(w.references.pressure->value == Approx(101.3));
    field->setText("760");
    field->take();
    CHECK(w.shows("outside 50 to 120 kPa"));
    CHECK(field->getText() == "760"); // stays to be mended
    field->setText("98");
    field->take();
    CHECK_FALSE(w.shows("outside 50 to 120 kPa"));
    CHECK(w.references.asked == Asked{"pressure", "pressure", "pressure"});
    ReferenceWindow regulated("idle");
    CHECK(find<PressureField>(regulated.view) == nullptr);
}

TEST_CASE("a reference is selected by keys and by a click, and set aside with a reason")
{
    ReferenceWindow w("idle");
    auto* chart = find<HistoryChart>(w.view);
    REQUIRE(chart != nullptr);
    CHECK(w.shows("2026-05-02 15:40, 122.00"));
    CHECK(chart->keyPressed(Key(Key::leftKey)));
    CHECK(w.shows("2026-04-29 15:40, 122.00"));
    CHECK(chart->keyPressed(Key(Key::homeKey)));
    CHECK(w.shows("121.91"));
    CHECK(w.press("set one aside"));
    auto& bar = *find<AsideBar>(w.view);
    bar.take(); // without a reason
    CHECK(w.references.asked.empty());
    CHECK(bar.edits());
    bar.reason.setText("gain moved");
    CHECK(w.press("set aside"));
    CHECK(w.references.asked == Asked{"aside 0 gain moved"});
    CHECK_FALSE(bar.edits());
    for (int i = 0; i < 15; ++i)
        chart->keyPressed(Key(Key::rightKey));
    CHECK(w.shows("set aside: gain moved"));
    CHECK(w.key(Key::deleteKey));
    CHECK(w.references.asked.back() == "back 15");
    chart->keyPressed(Key(Key::endKey));
    CHECK(w.key(Key::deleteKey));
    CHECK(bar.edits());
    bar.reason.onEscapeKey();
    CHECK_FALSE(bar.edits());
    CHECK(w.references.asked.size() == 2);
}

TEST_CASE("while a capture runs nothing of the history is changed")
{
    ReferenceWindow w("capturing");
    CHECK_FALSE(w.press("set one aside"));
    w.key(Key::deleteKey);
    CHECK_FALSE(find<AsideBar>(w.view)->edits());
    CHECK(w.references.asked.empty());
}

TEST_CASE("the table opens, selects, sets aside and closes")
{
    ReferenceWindow w("idle");
    CHECK(w.press("show as table"));
    CHECK(w.shows("taken, UTC"));
    auto* table = find<HistoryTable>(w.view);
    REQUIRE(table != nullptr);
    table->selectRow(7); // the newest stands first: 22 - 7
    CHECK(w.press("put it back"));
    CHECK(w.references.asked == Asked{"back 15"});
    table->selectRow(0);
    auto* sheet = find<ReferenceSheet>(w.view);
    REQUIRE(sheet != nullptr);
    CHECK(table->keyPressed(Key(Key::deleteKey)));
    sheet->aside.reason.setText("a cable was changed");
    sheet->aside.reason.onReturnKey();
    CHECK(w.references.asked.back() == "aside 22 a cable was changed");
    const auto before = w.references.asked.size();
    for (const int code : {static_cast<int>(Key::returnKey), int('A'), int('K'), int('2')})
        CHECK_FALSE(w.key(code)); // nothing is begun unseen
    CHECK(w.references.asked.size() == before);
    CHECK(w.key(Key::escapeKey));
    CHECK_FALSE(w.shows("taken, UTC"));
    CHECK(w.key('T'));
    CHECK(w.press("close"));
    CHECK(w.shows("less the tone at the input"));
}

TEST_CASE("judged terms are typed, refused with a sentence, and an empty one is assumed")
{
    ReferenceWindow w("judged");
    auto* terms = find<JudgedTermsEditor>(w.view);
    REQUIRE(terms != nullptr);
    CHECK(terms->field(0).getText() == "0.03");
    CHECK_FALSE(w.press("save")); // nothing has changed
    terms->field(1).setText("much", true);
    terms->take();
    CHECK(w.shows("'drift since' must be a size in dB"));
    CHECK(w.references.asked.empty());
    terms->field(0).setText("", true);
    terms->field(1).setText("0,04 dB", true);
    terms->field(2).setText("0.1", true);
    terms->field(5).setText("0.2", true);
    terms->take();
    REQUIRE(w.references.asked == Asked{"terms"});
    CHECK_FALSE(w.references.judged.seating_dB);
    CHECK((w.references.judged.drift_dB == 0.04 && w.references.judged.linearity_dB == 0.1));
    CHECK(w.references.judged.barometer->value == 0.05);
    CHECK(w.references.judged.insertion_dB == 0.2);
    terms->field(1).setText("-1", true);
    terms->takeBack();
    CHECK(terms->field(1).getText() == "0.04");
}

TEST_CASE("what is being typed survives a view that comes meanwhile")
{
    const auto state = referenceState("judged");
    ReferenceWindow w(state);
    auto* terms = find<JudgedTermsEditor>(w.view);
    terms->field(1).setText("0.0", true);
    w.view.showReference(state.view);
    CHECK(terms->field(1).getText() == "0.0");
    ReferenceWindow history("aside");
    auto* bar = find<AsideBar>(history.view);
    bar->reason.setText("gai");
    history.view.showReference(referenceState("aside").view);
    CHECK(bar->reason.getText() == "gai");
    CHECK(bar->edits());
}

TEST_CASE("the history is exported as the command writes it, and what became of it is said")
{
    const Scratch scratch;
    ReferenceWindow w("idle");
    CHECK(w.command('S'));
    CHECK(w.shows("Export the history to"));
    auto* bar = find<SheetBar>(w.view);
    REQUIRE(bar != nullptr);
    const auto file = scratch.path / "history.csv";
    bar->path.setText(file.string());
    bar->takePath();
    CHECK(contentOfFile(file) == csvOf(referenceState("idle").view.history));
    CHECK(w.shows("The history of 23 references was written to"));
    CHECK(w.press("close"));
    CHECK_FALSE(w.shows("was written to"));
    CHECK(w.press("export"));
    bar->path.setText((scratch.path / "no such folder" / "history.csv").string());
    bar->takePath();
    CHECK_FALSE(w.shows("was written to"));
    CHECK(w.shows("no such folder"));
}

TEST_CASE("a quick check's result is closed, or taken as reference, which starts one")
{
    ReferenceWindow w("moved");
    CHECK(w.press("take it as reference"));
    CHECK(w.references.asked == Asked{"take"});
    CHECK(w.key(Key::escapeKey));
    CHECK_FALSE(w.shows("Nothing was stored."));
    CHECK(w.shows("1000 Hz within 0.7 %"));
    w.view.showReference(referenceState("idle").view);
    w.view.showReference(referenceState("holds").view);
    CHECK(w.shows("Holds")); // another check is seen again
}

TEST_CASE("the arrow keys of the tabs reach the page, and its letters are those of no other page")
{
    ReferenceWindow w("idle");
    w.view.openPage(0);
    CHECK_FALSE(w.key('K'));
    CHECK_FALSE(w.key(Key::returnKey));
    CHECK(find<Header>(w.view)->keyPressed(Key(Key::rightKey)));
    CHECK(w.shows("What does full scale stand for"));
    CHECK(w.key('K'));
    CHECK(w.key('F')); // the window's own go on
    CHECK(w.view.showsFarView());
    CHECK_FALSE(w.key('K'));
    CHECK(w.references.asked == Asked{"check"});
}

TEST_CASE("everything of the Reference page can be reached by keyboard, has a title, and shows a ring when reached")
{
    for (const char* name : {"idle", "lift", "moved", "pressure", "table", "judged", "remarks"}) {
        ReferenceWindow w(name);
        int reached = 0;
        const std::function<void(juce::Component&)> visit = [&](juce::Component& c) {
            if (!c.isVisible())
                return;
            if (auto* chip = dynamic_cast<Chip*>(&c)) {
                ++reached;
                CHECK(chip->getWantsKeyboardFocus() == chip->isEnabled());
                CHECK(chip->getTitle().isNotEmpty());
                CHECK(chip->picture(true).shapes.size() > chip->picture(false).shapes.size());
            }
            const bool titled =
                dynamic_cast<Canvas*>(&c) != nullptr || dynamic_cast<juce::TextEditor*>(&c) != nullptr ||
                dynamic_cast<HistoryChart*>(&c) != nullptr || dynamic_cast<HistoryTable*>(&c) != nullptr ||
                dynamic_cast<ReferenceToneCard*>(&c) != nullptr;
            if (titled)
                CHECK(c.getTitle().isNotEmpty());
            for (auto* child : c.getChildren())
                visit(*child);
        };
        visit(w.view);
        INFO(name);
        CHECK(reached >= 8);
    }
}
