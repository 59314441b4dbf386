// SPDX-License-Identifier: GPL-3.0-or-later
#include "IdleControls.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/CouplerChooser.h"
#include "Screens/VoltsField.h"
#include "ShownTexts.h"
#include "States.h"

#include <catch2/catch.hpp>

#include <functional>

using namespace couplet;
using Asked = std::vector<std::string>;

namespace {

struct Window
{
    IdleControls controls;
    MainView view{controls};

    explicit Window(const LiveView& shown)
    {
        view.setVisible(true);
        view.setSize(1100, 720);
        view.show(shown);
    }
    bool key(int code) { return view.keyPressed(juce::KeyPress(code)); }
};

} // namespace

TEST_CASE("F opens the far view and closes it again, and so do click and escape")
{
    Window w(agreeing());
    CHECK(w.key('F'));
    CHECK(w.view.showsFarView());
    CHECK(w.key('F'));
    CHECK_FALSE(w.view.showsFarView());
    CHECK(press(w.view, "Far view"));
    CHECK(w.view.showsFarView());
    CHECK(w.key(juce::KeyPress::escapeKey));
    CHECK_FALSE(w.view.showsFarView());
    CHECK(shows(w.view, "93.97"));
}

TEST_CASE("H and its word hold the numbers and let them go")
{
    Window live(agreeing()), held(stateNamed("held"));
    live.key('H');
    press(live.view, "Hold");
    held.key('H');
    CHECK(live.controls.asked == Asked{"hold", "hold"});
    CHECK(held.controls.asked == Asked{"go on"});
}

TEST_CASE("the arrow keys on the chooser go through the session's couplers and skip empty slots")
{
    Window w(agreeing());
    auto* chooser = find<CouplerChooser>(w.view);
    REQUIRE(chooser != nullptr);
    CHECK(chooser->keyPressed(juce::KeyPress(juce::KeyPress::downKey)));
    LiveView second = agreeing();
    second.couplerSlot = 2;
    w.view.show(second);
    chooser->keyPressed(juce::KeyPress(juce::KeyPress::downKey));
    chooser->keyPressed(juce::KeyPress(juce::KeyPress::upKey));
    CHECK(w.controls.asked == Asked{"coupler 2", "coupler 5", "coupler 1"});
}

TEST_CASE("a muted loop can be unmuted")
{
    Window w(stateNamed("howl-muted"));
    CHECK(shows(w.view, "The output is muted"));
    CHECK(press(w.view, "Unmute"));
    CHECK(w.controls.asked == Asked{"unmute"});
}

TEST_CASE("weighting and time weighting change where they stand")
{
    Window w(agreeing());
    CHECK(press(w.view, "Fast"));
    CHECK(press(w.view, "reset"));
    CHECK(w.controls.asked == Asked{"slow", "reset"});
}

TEST_CASE("a drive is typed with its unit, and refused with a sentence without one")
{
    Window w(agreeing());
    w.view.openEarphoneChoices(true);
    auto* field = find<VoltsField>(w.view);
    REQUIRE(field != nullptr);
    CHECK(field->getText() == "123.2 mV");
    field->setText("500");
    field->take();
    CHECK(w.controls.asked.empty());
    CHECK(shows(w.view, "has no unit"));
    w.view.show(agreeing());
    CHECK(field->getText() == "500"); // stays to be mended
    field->setText("62.4 mV");
    field->take();
    CHECK_FALSE(shows(w.view, "has no unit"));
    REQUIRE(w.controls.drive);
    CHECK(w.controls.drive->value == 0.0624);
    field->setText("");
    field->take();
    CHECK_FALSE(w.controls.drive);
    CHECK(w.controls.asked == Asked{"drive", "drive"});
}

TEST_CASE("the side is chosen in the row of choices, which opens at the earphone's line")
{
    Window w(agreeing());
    CHECK(press(w.view, "earphone S, left"));
    CHECK(press(w.view, "right"));
    CHECK(press(w.view, "not said"));
    CHECK(press(w.view, "close"));
    CHECK_FALSE(press(w.view, "not said"));
    CHECK(w.controls.asked == Asked{"side right", "side "});
}

TEST_CASE("notes that do not fit open and close in every state that has some")
{
    for (const char* name : {"disturbed", "everything", "no-tolerance"}) {
        Window w(stateNamed(name));
        w.view.setSize(760, 520);
        w.view.openNotes(true);
        INFO(name);
        CHECK(press(w.view, "close the notes"));
        CHECK(shows(w.view, "Measured"));
    }
}

TEST_CASE("what lies on the simulated coupler is chosen in its bar")
{
    Window w(stateNamed("simulated"));
    CHECK(press(w.view, "calibrator"));
    CHECK(w.controls.simulated.what == OnCoupler::What::calibrator);
    CHECK(press(w.view, "right"));
    CHECK(w.controls.simulated == OnCoupler{OnCoupler::What::earphone, 3, Side::right, {}});
    CHECK(press(w.view, "nothing"));
    CHECK(w.controls.simulated.what == OnCoupler::What::nothing);
    CHECK(press(w.view, "leave"));
    CHECK(w.controls.asked.back() == "leave");
}

TEST_CASE("each tab opens its page, and what is not there yet says so")
{
    Window w(agreeing());
    for (const char* tab : {"Fit", "Earphones", "Record"}) {
        CHECK(press(w.view, tab));
        CHECK(shows(w.view, "It is not there yet."));
        CHECK_FALSE(shows(w.view, "Measured"));
    }
    CHECK(press(w.view, "Reference"));
    CHECK(shows(w.view, "What does full scale stand for at this microphone?"));
    CHECK(press(w.view, "Read"));
    CHECK(shows(w.view, "Measured"));
}

TEST_CASE("everything that can be pressed can be reached by keyboard, has a title, and shows a ring when reached")
{
    Window w(stateNamed("everything"));
    w.view.openEarphoneChoices(true);
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
        if (auto* canvas = dynamic_cast<Canvas*>(&c))
            CHECK(canvas->getTitle().isNotEmpty());
        if (auto* field = dynamic_cast<VoltsField*>(&c))
            CHECK(field->getTitle().isNotEmpty());
        for (auto* child : c.getChildren())
            visit(*child);
    };
    visit(w.view);
    CHECK(reached > 15);
    auto* chooser = find<CouplerChooser>(w.view);
    CHECK(chooser->picture(true).shapes.size() > chooser->picture(false).shapes.size());
}
