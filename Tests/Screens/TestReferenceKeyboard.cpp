// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/ReferenceRig.h"

#include "Screens/AsideBar.h"
#include "Screens/Header.h"
#include "Screens/MainView.h"
#include "Screens/ReferencePage.h"
#include "ShownTexts.h"

using namespace couplet;
using namespace couplet::tests;

namespace {

using Key = juce::KeyPress;

// A library that is there before the processor looks.
struct TwoCalibrators
{
    LibraryHere library;

    TwoCalibrators()
    {
        Calibrator other = calibratorOnPaper(demoScenario());
        other.name = "another calibrator";
        other.simulated = false;
        REQUIRE(library.folder.save(other));
        REQUIRE(library.folder.save(plainCoupler("left bench")));
    }
};

// The real engine under a window, and nothing but keys to work it with.
struct Bench
{
    TwoCalibrators papers;
    Rig rig;
    Processor& processor = *rig.processor;
    Played played{processor};
    MainView window{processor};

    Bench()
    {
        processor.putInSlot(1, plainCoupler("left bench"));
        processor.chooseCouplerSlot(1);
        rig.settle();
        window.useReferences(&processor);
        window.setVisible(true);
        window.setSize(760, 520);
        look();
    }
    void look()
    {
        rig.settle();
        window.show(processor.view());
        window.showReference(processor.referenceView());
        CHECK(faultsOfLayout(window) == std::vector<std::string>{});
    }
    bool key(int code, int modifiers = 0)
    {
        const bool taken = window.keyPressed(Key(code, juce::ModifierKeys(modifiers), 0));
        look();
        return taken;
    }
    void until(CaptureState wanted, double most_s)
    {
        REQUIRE(played.play(most_s, [&] { return processor.referenceView().state == wanted; }));
        look();
    }
    const ReferenceView& view() const { return processor.referenceView(); }
};

} // namespace

TEST_CASE("a whole reference is taken, set aside, put back and undone by keyboard alone")
{
    Bench b;
    REQUIRE(find<Header>(b.window)->keyPressed(Key(Key::rightKey))); // from the tab of the Read page
    b.look();
    CHECK(shows(b.window, "choose the calibrator"));
    CHECK(shows(b.window, "Not ready"));
    CHECK_FALSE(b.key(Key::returnKey));
    while (b.view().calibrator != "bench calibrator")
        REQUIRE(b.key(Key::downKey));
    CHECK(shows(b.window, "bench calibrator"));
    CHECK(b.key('2'));
    CHECK(shows(b.window, "2 seatings"));
    b.played.seat();
    b.played.play(5.0);
    b.look();
    CHECK(shows(b.window, "Fit"));
    CHECK(shows(b.window, "1000 Hz within 0.7 %"));

    CHECK(b.key(Key::returnKey));
    b.until(CaptureState::capturing, 5.0);
    CHECK(shows(b.window, "Capturing"));
    b.until(CaptureState::lift, 20.0);
    CHECK(shows(b.window, "Lift"));
    CHECK(shows(b.window, "finish with 1 seating"));
    b.played.lift();
    b.until(CaptureState::waiting, 3.0);
    CHECK(shows(b.window, "Waiting"));
    b.played.play(1.0);
    b.played.seat();
    b.until(CaptureState::done, 20.0);
    CHECK(shows(b.window, "Done"));
    CHECK(shows(b.window, "+121.97"));
    REQUIRE(b.view().history.points.size() == 1);
    CHECK(b.view().history.points[0].current);

    CHECK(b.key(Key::deleteKey));
    auto* bar = find<AsideBar>(b.window);
    REQUIRE(bar != nullptr);
    bar->reason.setText("gain moved");
    bar->reason.onReturnKey();
    b.look();
    CHECK(b.view().history.points[0].setAside == "gain moved");
    CHECK(b.key(Key::deleteKey));
    CHECK(b.view().history.points[0].setAside.empty());

    b.key('1');
    CHECK(b.key(Key::returnKey));
    b.until(CaptureState::done, 20.0);
    CHECK(b.key('Z', juce::ModifierKeys::commandModifier));
    REQUIRE(b.view().history.points.size() == 2);
    CHECK(b.view().history.points[1].setAside == "undone");
    CHECK(b.view().history.points[0].current);
}

TEST_CASE("a capture is cancelled, and one finished with the seatings kept, by keyboard alone")
{
    Bench b;
    b.window.openPage(1);
    while (b.view().calibrator != "bench calibrator")
        REQUIRE(b.key(Key::downKey));
    b.played.seat();
    CHECK(b.key('A'));
    CHECK(shows(b.window, "Hands-free"));
    b.until(CaptureState::capturing, 8.0);
    CHECK(b.key(Key::escapeKey));
    CHECK(shows(b.window, "Cancelled"));
    CHECK(b.view().history.points.empty());
    CHECK(b.key(Key::returnKey));
    b.until(CaptureState::lift, 20.0);
    CHECK(b.key(Key::spaceKey));
    CHECK(b.view().state == CaptureState::done);
    CHECK(b.view().history.points.size() == 1);

    CHECK(b.key('K'));
    b.until(CaptureState::done, 5.0);
    CHECK(shows(b.window, "Holds"));
    CHECK(b.view().history.points.size() == 1); // nothing was stored
    CHECK(b.key(Key::escapeKey));
    CHECK_FALSE(shows(b.window, "Holds"));
}
