// SPDX-License-Identifier: GPL-3.0-or-later
#include "ChooserWindow.h"

using namespace couplet;
using namespace couplet::tests;

namespace {

VersionsView few()
{
    return *versionStates().front().versions;
}

struct Opened : ChooserWindow
{
    ChooserSheet& sheet = open();
    CouplerDetails& details = *find<CouplerDetails>(view);

    Opened()
    {
        CHECK(command(sheet, 'E'));
        view.showLibrary(withVersions(fiveCouplers(), few()));
    }
};

} // namespace

TEST_CASE("the versions of the selected coupler are asked for by key, listed with date and change, and put back")
{
    Opened w;
    REQUIRE(w.details.earlier.isVisible());
    CHECK(w.library.asked == Asked{"versions Ear simulator, left bench"});
    for (const char* text : {"14 references more", "until 2026-05-03 12:04 UTC",
                             "correction 1.44 \u2192 1.36 dB, allowed age 8 \u2192 24 h", "version 2"})
        CHECK(shows(w.view, text));
    auto* list = find<juce::ListBox>(w.details.earlier);
    REQUIRE(list != nullptr);
    CHECK(list->keyPressed(Key(Key::downKey)));
    CHECK(list->keyPressed(Key(Key::returnKey)));
    CHECK(w.library.asked.back() == "version 2 Ear simulator, left bench");
    CHECK(press(w.view, "put back"));
    CHECK(w.library.asked.size() == 3);
    CHECK(w.details.earlier.isVisible()); // the list goes on, with what stood before in it
}

TEST_CASE("escape leaves the versions and then the couplers, and tells the library that nobody looks any more")
{
    Opened w;
    CHECK(w.details.earlier.keyPressed(Key(Key::escapeKey)));
    CHECK_FALSE(w.details.earlier.isVisible());
    CHECK(w.library.asked.back() == "versions ");
    CHECK(w.view.showsChooser());
    CHECK(ChooserWindow::command(w.sheet, 'E'));
    CHECK(ChooserWindow::press(w.sheet, Key::escapeKey)); // from the search as well
    CHECK_FALSE(w.details.earlier.isVisible());
    CHECK(ChooserWindow::press(w.sheet, Key::escapeKey));
    CHECK_FALSE(w.view.showsChooser());
}

TEST_CASE("another coupler that is selected, or its new name, closes the versions of the one before")
{
    Opened w;
    CHECK(ChooserWindow::press(w.sheet, Key::downKey));
    CHECK_FALSE(w.details.earlier.isVisible());
    CHECK(shows(w.view, "Ear simulator, right bench"));
    CHECK_FALSE(shows(w.view, "14 references more"));
}

TEST_CASE("versions of another coupler are not shown, and none are put back while they are being read")
{
    Opened w;
    auto others = few();
    others.coupler = "Bare microphone";
    w.view.showLibrary(withVersions(fiveCouplers(), others));
    CHECK(shows(w.view, "Couplet reads the versions."));
    CHECK_FALSE(shows(w.view, "14 references more"));
    w.details.earlier.take();
    CHECK(w.library.asked.size() == 1);
    w.view.showLibrary(withVersions(fiveCouplers(), VersionsView{few().coupler, {}, {}}));
    CHECK(shows(w.view, "Nothing was overwritten yet."));
    CHECK_FALSE(press(w.view, "put back"));
}

TEST_CASE("no text of the versions is cut or stands on another, in any state at any size")
{
    constexpr std::pair<int, int> sizes[] = {{760, 520},  {760, 900},  {830, 560},
                                             {1060, 520}, {1100, 720}, {2200, 1440}};
    for (const auto& state : versionStates())
        for (const auto& [width, height] : sizes) {
            ChooserWindow w;
            w.view.setSize(width, height);
            w.open();
            find<CouplerDetails>(w.view)->startVersions();
            w.view.showLibrary(withVersions(fiveCouplers(), state.versions));
            INFO(state.name << " at " << width << " x " << height);
            CHECK(faultsOfLayout(w.view) == std::vector<std::string>{});
        }
}
