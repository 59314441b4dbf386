// SPDX-License-Identifier: GPL-3.0-or-later
#include "ReferenceScene.h"
#include "ReferenceWindow.h"
#include "Screens/ControlChartPicture.h"
#include "Screens/ReferenceWords.h"

#include <algorithm>

// A result that waits for a word because it moved, and a history with a step.

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("a result that moved says so, by how much and what to check, and is not told as in force")
{
    ReferenceWindow w("waits");
    CHECK(w.shows("Moved by +15.97 dB"));
    CHECK(w.shows("It is not kept yet"));
    std::string all;
    for (const auto& text : shownTexts(w.view))
        all += text.text + " ";
    CHECK(all.find("is it seated, and was a gain or the microphone changed on purpose?") != std::string::npos);
    CHECK(w.shows("The reference before stays in force."));
    CHECK_FALSE(w.shows("The reference is in force"));
    for (const char* word : {"Keep although moved", "Take again", "discard"})
        CHECK(w.shows(word));
    CHECK(w.shows("Offset of this coupler, 23 references")); // it is not among them
    ReferenceWindow done("done");
    for (const char* word : {"Keep although moved", "Take again", "discard"})
        CHECK_FALSE(done.shows(word));
}

TEST_CASE("a result that moved is kept, discarded or taken again by word and by key")
{
    ReferenceWindow words("waits"), keys("waits");
    for (const char* word : {"Keep although moved", "discard", "Take again"})
        CHECK(words.press(word));
    CHECK(words.references.asked == Asked{"keep moved", "undo", "take"});
    CHECK(keys.key('M'));
    CHECK(keys.key(Key::escapeKey));
    CHECK(keys.command('Z'));
    CHECK(keys.key(Key::returnKey)); // never keeps
    CHECK(keys.references.asked == Asked{"keep moved", "undo", "undo", "take"});
    ReferenceWindow idle("idle");
    CHECK_FALSE(idle.key('M'));
    CHECK(idle.references.asked.empty());
    keys.page().openSheet(ReferenceSheet::What::history);
    CHECK_FALSE(keys.key('M')); // nothing is kept unseen
}

TEST_CASE("a history with a step says since when it counts, and draws the band from there")
{
    const auto& view = referenceState("stepped").view;
    REQUIRE(view.history.points.size() == 24);
    CHECK(view.history.points[22].beforeStep);
    CHECK_FALSE(view.history.points[23].beforeStep);
    CHECK(standingWords(view.history.points[23]) == "in force, moved by \u22126.05 dB");
    ReferenceWindow w("stepped");
    CHECK(w.shows("The reference is in force"));
    const auto all = remarks(view);
    CHECK_THAT(all.front(), Catch::Contains("Moved by")); // before what is true of most references
    CHECK(std::any_of(all.begin(), all.end(), [](const std::string& text) {
        return text.find("mean, limits and drift count from it on") != std::string::npos;
    }));

    // After five more at the new gain the band is about the new offset, and the old ones are not called outside.
    auto scene = sketchedScene();
    takeStep(scene);
    auto& references = scene.coupler->references;
    for (int i = 0; i < 5; ++i) {
        references.push_back(references.back());
        references.back().moved_dB.reset();
        references.back().offset_dB += i % 2 == 0 ? 0.02 : -0.02;
    }
    const auto history = historyOf(*scene.coupler, scene.now);
    REQUIRE(history.chart.low_dB);
    CHECK(*history.chart.low_dB > references.back().offset_dB - 0.3);
    CHECK(std::none_of(history.points.begin(), history.points.end(), [](const HistoryPoint& p) { return p.outside; }));
    CHECK(bandWords(history).find("of the references since the step") != std::string::npos);
    const auto range = chartRange(history);
    CHECK(range.high_dB < 118.0); // the old ones lie 6 dB above, and do not flatten the chart
    CHECK(range.low_dB > 114.0);
}
