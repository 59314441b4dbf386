// SPDX-License-Identifier: GPL-3.0-or-later
#include "IdleControls.h"
#include "IdleLibrary.h"
#include "LibraryStates.h"
#include "Screens/ChooserSheet.h"
#include "ShownTexts.h"
#include "States.h"

#include <catch2/catch.hpp>

#include <functional>

using namespace couplet;

namespace {

struct Size
{
    int width, height;
};

constexpr Size sizes[] = {{760, 520},  {760, 900},  {830, 560},  {940, 640},   {1059, 690}, {1060, 520},
                          {1100, 720}, {1500, 720}, {1280, 800}, {1920, 1080}, {2200, 1440}};

void checkAtEverySize(const std::string& what, const std::function<void(MainView&)>& prepare)
{
    for (const auto& size : sizes) {
        IdleControls controls;
        IdleLibrary library;
        MainView window(controls, &library);
        window.setSize(size.width, size.height);
        prepare(window);
        INFO(what << " at " << size.width << " x " << size.height);
        CHECK(faultsOfLayout(window) == std::vector<std::string>{});
    }
}

} // namespace

TEST_CASE("no text of the Read page is cut or stands on another, in any state at any size")
{
    for (const auto& state : allStates())
        checkAtEverySize(state.name, [&state](MainView& w) { show(w, state); });
}

TEST_CASE("no text of the far view is cut or stands on another, in any state at any size")
{
    for (const auto& state : allStates())
        checkAtEverySize(state.name, [&state](MainView& w) {
            w.show(state.view);
            w.setFarView(true);
        });
}

TEST_CASE("opened choices and notes leave every text whole")
{
    for (const char* name : {"agreeing", "disturbed", "everything", "long-names"})
        checkAtEverySize(name, [name](MainView& w) {
            w.show(stateNamed(name));
            w.openEarphoneChoices(true);
            w.openNotes(true);
        });
}

TEST_CASE("the pages that only describe leave every text whole")
{
    for (int page = 2; page < 5; ++page)
        checkAtEverySize("page " + std::to_string(page), [page](MainView& w) {
            w.show(agreeing());
            w.openPage(page);
        });
}

TEST_CASE("no text of the chooser is cut or stands on another, in any state at any size")
{
    for (const auto& state : libraryStates())
        checkAtEverySize(state.name, [&state](MainView& w) {
            w.show(agreeing());
            w.showLibrary(state.view);
            w.openChooser(true);
            find<ChooserSheet>(w)->searchFor(state.search);
        });
}

TEST_CASE("no text of a coupler that is being changed is cut or stands on another, at any size")
{
    for (const bool renames : {true, false})
        checkAtEverySize(renames ? "renaming" : "fields", [renames](MainView& w) {
            w.show(agreeing());
            w.showLibrary(fiveCouplers());
            w.openChooser(true);
            auto* details = find<CouplerDetails>(w);
            renames ? details->startRename() : details->startFields();
            find<ChooserSheet>(w)->picker.usesDesktop = false;
            find<ChooserSheet>(w)->picker.ask({"Import couplers from", "*", "", false}, [](const auto&) {});
        });
}

TEST_CASE("no text of the question between session and library is cut or stands on another")
{
    for (const auto& state : conflictStates()) {
        checkAtEverySize("asked " + state.name, [&state](MainView& w) {
            w.show(agreeing());
            w.showLibrary(state.view);
        });
        checkAtEverySize("compared " + state.name, [&state](MainView& w) {
            w.show(agreeing());
            w.showLibrary(state.view);
            w.askAbout(state.view.questions.front());
        });
    }
}

TEST_CASE("no text of the Read page is cut or stands on another while a question stands above it")
{
    const auto question = conflictStates().back().view;
    for (const auto& state : allStates())
        checkAtEverySize(state.name, [&](MainView& w) {
            w.showLibrary(question);
            w.show(state.view);
        });
}

TEST_CASE("a window that is drawn over shows what one of that size shows at once")
{
    IdleControls controls;
    MainView resized(controls), fresh(controls);
    resized.setSize(1100, 720);
    resized.show(agreeing());
    resized.setSize(760, 520);
    fresh.setSize(760, 520);
    fresh.show(agreeing());
    const auto before = shownTexts(resized), after = shownTexts(fresh);
    REQUIRE(before.size() == after.size());
    for (std::size_t i = 0; i < before.size(); ++i) {
        CHECK(before[i].text == after[i].text);
        CHECK(before[i].ink == after[i].ink);
    }
}

TEST_CASE("digits are all equally wide, so that numbers do not jump")
{
    const juce::SharedResourcePointer<Fonts> fonts;
    for (const bool bold : {false, true})
        for (const char digit : std::string("123456789"))
            CHECK(fonts->width(std::string(2, digit), {72.0f, bold}) == Approx(fonts->width("00", {72.0f, bold})));
}

TEST_CASE("a text's size is the em of its typeface")
{
    // B612 Regular: capital height 1500 and digit advance to an em of 2000 (its OS/2 table).
    const juce::SharedResourcePointer<Fonts> fonts;
    juce::GlyphArrangement glyphs;
    glyphs.addLineOfText(fonts->font({200.0f}), "H", 0.0f, 0.0f);
    juce::Path outline;
    glyphs.createPath(outline);
    CHECK(outline.getBounds().getHeight() == Approx(150.0f).margin(2.5));
}
