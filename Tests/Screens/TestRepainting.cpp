// SPDX-License-Identifier: GPL-3.0-or-later
#include "IdleControls.h"
#include "ReferenceStates.h"
#include "Screens/SpectrumPanel.h"
#include "ShownTexts.h"
#include "States.h"

#include <catch2/catch.hpp>

using namespace couplet;

namespace {

// Stands where a window keeps its painted image, and hears of every part that has to be painted again.
class Repaints : public juce::CachedComponentImage
{
public:
    explicit Repaints(std::vector<juce::Rectangle<int>>& a) : areas(a) {}
    void paint(juce::Graphics&) override {}
    bool invalidateAll() override
    {
        areas.push_back({0, 0, 100000, 100000});
        return true;
    }
    bool invalidate(const juce::Rectangle<int>& area) override
    {
        areas.push_back(area);
        return true;
    }
    void releaseResources() override {}

private:
    std::vector<juce::Rectangle<int>>& areas;
};

struct Watched
{
    std::vector<juce::Rectangle<int>> areas;
    IdleControls controls;
    MainView view{controls};

    explicit Watched(const LiveView& first)
    {
        view.setSize(1100, 720);
        view.setVisible(true);
        view.show(first);
        view.setCachedComponentImage(new Repaints(areas)); // the component owns it
        areas.clear();
    }
    int pixels() const
    {
        int sum = 0;
        for (const auto& area : areas)
            sum += area.getWidth() * area.getHeight();
        return sum;
    }
};

} // namespace

TEST_CASE("a view that looks the same repaints nothing")
{
    for (const auto& state : allStates()) {
        INFO(state.name);
        Watched w(state.view);
        w.view.openView(state.opened);
        w.areas.clear();
        for (int i = 0; i < 20; ++i)
            w.view.show(state.view);
        for (const auto& area : w.areas)
            UNSCOPED_INFO("painted again: " << area.toString());
        CHECK(w.areas.empty());
        w.view.setFarView(true);
        w.areas.clear();
        for (int i = 0; i < 20; ++i)
            w.view.show(state.view);
        CHECK(w.areas.empty());
    }
}

TEST_CASE("a change too small to be seen repaints nothing")
{
    LiveView view = agreeing();
    Watched w(view);
    view.reading.measured->level_dB += 1e-5;
    view.referenceAge_s = *view.referenceAge_s + 1.0;
    view.reading.tone.frequency = Hertz(500.0101);
    w.view.show(view);
    CHECK(w.areas.empty());
}

TEST_CASE("a changed number repaints its own place and little else")
{
    LiveView view = agreeing();
    Watched w(view);
    view.reading.measured->level_dB += 0.02;
    w.view.show(view);
    CHECK_FALSE(w.areas.empty());
    CHECK(w.pixels() < 1100 * 720 / 15);
    for (const auto& area : w.areas)
        CHECK(area.getRight() <= 438);
}

TEST_CASE("pages that are not seen are not painted")
{
    LiveView view = agreeing();
    Watched w(view);
    w.view.openPage(2);
    w.areas.clear();
    view.reading.measured->level_dB += 1.0;
    w.view.show(view);
    CHECK(w.areas.empty());
    w.view.openPage(0);
    CHECK(shows(w.view, "94.97"));
}

TEST_CASE("a new spectrum repaints its panel and nothing else")
{
    for (const char* name : {"spectrum", "orders"}) {
        INFO(name);
        const NamedView state = wholeState(name);
        LiveView view = state.view;
        Watched w(view);
        w.view.openView(state.opened);
        juce::Thread::sleep(SpectrumPanel::leastPause_ms + 30);
        w.areas.clear();
        for (auto& point : view.spectrum->lines)
            point.level_dB = *point.level_dB + 0.8;
        view.spectrum->orders[0].belowTone_dB = 61.0;
        w.view.show(view);
        CHECK_FALSE(w.areas.empty());
        for (const auto& area : w.areas) {
            CHECK(area.getY() >= 464); // where the panel begins
            CHECK(area.getBottom() <= 672);
        }
        w.areas.clear();
        view.spectrum->lines[7].level_dB = 61.0;
        for (int i = 0; i < 3; ++i)
            w.view.show(view); // too soon after the other
        CHECK(w.areas.empty());
    }
}

TEST_CASE("a view of a reference that looks the same repaints nothing")
{
    for (const auto& state : referenceStates()) {
        INFO(state.name);
        Watched w(state.live);
        show(w.view, state);
        w.view.showReference(state.view);
        w.areas.clear();
        for (int i = 0; i < 5; ++i) {
            w.view.show(state.live);
            w.view.showReference(state.view);
        }
        for (const auto& area : w.areas)
            UNSCOPED_INFO("painted again: " << area.toString());
        CHECK(w.areas.empty());
    }
}

TEST_CASE("the progress of a capture repaints its own card alone")
{
    auto state = referenceState("capturing");
    Watched w(state.live);
    show(w.view, state);
    w.areas.clear();
    state.view.progress = 0.72;
    state.view.progressText = "seating 2 of 3 \u00b7 7.2 of 10 s kept";
    w.view.showReference(state.view);
    CHECK_FALSE(w.areas.empty());
    for (const auto& area : w.areas) {
        CHECK(area.getX() >= 374);
        CHECK(area.getRight() <= 674);
        CHECK(area.getHeight() < 60);
    }
}

TEST_CASE("the Reference page is not painted while another is open")
{
    auto state = referenceState("capturing");
    Watched w(state.live);
    show(w.view, state);
    w.view.openPage(0);
    w.areas.clear();
    state.view.progress = 0.9;
    w.view.showReference(state.view);
    CHECK(w.areas.empty());
    w.view.openPage(1);
    CHECK(shows(w.view, "Capturing"));
}
