// SPDX-License-Identifier: GPL-3.0-or-later
#include "IdleControls.h"
#include "IdleLibrary.h"
#include "LibraryStates.h"
#include "Screens/ChooserSheet.h"
#include "Screens/ConflictSheet.h"
#include "ShownTexts.h"
#include "States.h"

#include <catch2/catch.hpp>

using namespace couplet;
using Asked = std::vector<std::string>;
using Key = juce::KeyPress;

namespace {

LibraryView conflict(const std::string& name)
{
    for (const auto& state : conflictStates())
        if (state.name == name)
            return state.view;
    throw std::invalid_argument(name);
}

struct Window
{
    IdleControls controls;
    IdleLibrary library;
    MainView view{controls, &library};

    explicit Window(const LibraryView& couplers)
    {
        view.setVisible(true);
        view.setSize(1100, 720);
        view.show(agreeing());
        view.showLibrary(couplers);
    }
};

} // namespace

TEST_CASE("a difference between session and library is asked about in one line above the page")
{
    const std::pair<const char*, const char*> forms[] = {{"library-went-on", "The library has 2 references of coupler"},
                                                         {"session-went-on", "This session has 1 reference of coupler"},
                                                         {"differs", "hold two versions of coupler"},
                                                         {"not-in-library", "is not in the library."}};
    for (const auto& [state, words] : forms) {
        Window w(conflict(state));
        CHECK(shows(w.view, words));
        CHECK(shows(w.view, "Measured"));
    }
}

TEST_CASE("a coupler that the library lacks is kept or left with one press")
{
    Window w(conflict("not-in-library"));
    CHECK(press(w.view, "keep it"));
    CHECK(press(w.view, "leave it"));
    CHECK(w.library.asked == Asked{"answer Ear simulator, left bench 0", "answer Ear simulator, left bench 2"});
}

TEST_CASE("both versions stand side by side with date, history, offset and correction")
{
    Window w(conflict("differs"));
    CHECK(press(w.view, "compare"));
    REQUIRE(find<ConflictSheet>(w.view) != nullptr);
    for (const char* text : {"This session's", "The library's", "2026-05-04 10:00 UTC", "2026-05-06 08:30 UTC",
                             "4 references", "5 references", "122.51 dB", "121.93 dB", "1.36 dB"})
        CHECK(shows(w.view, text));
    CHECK_FALSE(shows(w.view, "Measured"));
}

TEST_CASE("each answer has its word and its digit, and escape decides nothing")
{
    for (const auto& [digit, word] : {std::pair{'1', "1  Keep this session's in the library"},
                                      std::pair{'2', "2  Take the library's"}, std::pair{'3', "3  Leave both"}}) {
        Window w(conflict("differs"));
        REQUIRE(press(w.view, "compare"));
        CHECK(find<ConflictSheet>(w.view)->keyPressed(Key(digit)));
        CHECK(find<ConflictSheet>(w.view) == nullptr);
        REQUIRE(press(w.view, "compare"));
        CHECK(press(w.view, word));
        const auto meant = "answer Ear simulator, left bench " + std::to_string(digit - '1');
        CHECK(w.library.asked == Asked{meant, meant});
        REQUIRE(press(w.view, "compare"));
        CHECK(find<ConflictSheet>(w.view)->keyPressed(Key(Key::escapeKey)));
        CHECK(w.library.asked.size() == 2);
        CHECK(shows(w.view, "Measured"));
    }
}

TEST_CASE("a question that was left stays as a mark in the list, and no bar is in the way")
{
    auto couplers = conflict("differs");
    couplers.questions[0].left = true;
    Window w(couplers);
    CHECK_FALSE(shows(w.view, "hold two versions"));
    w.view.openChooser(true);
    CHECK(shows(w.view, "the library has another version"));
    CHECK(press(w.view, "compare"));
    CHECK(find<ConflictSheet>(w.view) != nullptr);
    CHECK(find<ConflictSheet>(w.view)->keyPressed(Key(Key::escapeKey)));
    CHECK(w.view.showsChooser());
}
