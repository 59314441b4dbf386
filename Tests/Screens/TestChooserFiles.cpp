// SPDX-License-Identifier: GPL-3.0-or-later
#include "ChooserWindow.h"

using namespace couplet;
using Window = couplet::tests::ChooserWindow;
using couplet::tests::Asked;
using couplet::tests::Key;

TEST_CASE("without a desktop's own chooser, files are named by a path that is typed")
{
    Window w;
    auto& sheet = w.open();
    auto* bar = find<SheetBar>(w.view);
    Window::command(sheet, 'O');
    bar = find<SheetBar>(w.view);
    REQUIRE(bar != nullptr);
    CHECK(bar->asksForPath());
    bar->path.setWords("/bench/may.json");
    bar->takePath();
    Window::command(sheet, 'S');
    CHECK(bar->path.words() == "Ear simulator left bench.json");
    bar->path.setWords("/bench/left.json");
    bar->takePath();
    Window::command(sheet, 'R');
    bar->path.setWords("/bench/table.txt");
    bar->takePath();
    CHECK(press(w.view, "export all"));
    CHECK(Window::press(sheet, Key::escapeKey)); // leaves the path, not the sheet
    CHECK_FALSE(bar->asksForPath());
    CHECK(w.view.showsChooser());
    CHECK(w.library.asked == Asked{"import /bench/may.json", "export Ear simulator, left bench /bench/left.json",
                                   "response Ear simulator, left bench /bench/table.txt"});
}

TEST_CASE("files dragged onto the window open the sheet: couplers are imported, a table goes to the selected one")
{
    Window w;
    CHECK(w.view.isInterestedInFileDrag({"/bench/may.json"}));
    w.view.filesDropped({"/bench/may.json", "/bench/table.txt"}, 10, 10);
    CHECK(w.view.showsChooser());
    CHECK(w.library.asked == Asked{"response Ear simulator, left bench /bench/table.txt", "import /bench/may.json"});
}

TEST_CASE("a table dragged where no coupler is selected is not lost without a word")
{
    Window w;
    w.open().searchFor("no coupler");
    w.view.filesDropped({"/bench/table.txt"}, 10, 10);
    CHECK(w.library.asked == Asked{"response  /bench/table.txt"});
}

TEST_CASE("a file that would change what the library has is asked about first")
{
    Window w;
    w.open();
    for (const auto& state : libraryStates())
        if (state.name == "import")
            w.view.showLibrary(state.view);
    CHECK(shows(w.view, "Nothing is saved yet."));
    CHECK(press(w.view, "import it"));
    CHECK(press(w.view, "leave"));
    CHECK(w.library.asked == Asked{"import all the same", "import nothing"});
}
