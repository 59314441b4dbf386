// SPDX-License-Identifier: GPL-3.0-or-later
#include "FitWindow.h"

#include "Screens/CouplerChooser.h"

#include <functional>

using namespace couplet;
using Window = couplet::tests::FitWindow;
using couplet::tests::Key;

namespace {

constexpr int sizes[][2] = {{760, 520},  {760, 900},  {830, 560},  {940, 640},   {1059, 690}, {1060, 520},
                            {1100, 720}, {1500, 720}, {1280, 800}, {1920, 1080}, {2200, 1440}};

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
    Window w;

    explicit Watched(const NamedFit& state) : w(state)
    {
        w.view.setCachedComponentImage(new Repaints(areas)); // the component owns it
    }
    void show(FitView view)
    {
        areas.clear();
        view.revision += ++shown;
        w.view.showFit(view);
    }
    int pixels() const
    {
        int sum = 0;
        for (const auto& area : areas)
            sum += area.getWidth() * area.getHeight();
        return sum;
    }
    std::uint64_t shown = 100;
};

} // namespace

TEST_CASE("no text of the Fit page is cut or stands on another, in any state at any size")
{
    for (const auto& state : fitStates())
        for (const auto& size : sizes) {
            Window w(state, size[0], size[1]);
            INFO(state.name << " at " << size[0] << " x " << size[1]);
            CHECK(faultsOfLayout(w.view) == std::vector<std::string>{});
        }
}

TEST_CASE("answers and figures that come and go leave every text of the Fit page whole")
{
    for (const auto& size : sizes) {
        Window w(fitNamed("fit-names"), size[0], size[1]);
        INFO(size[0] << " x " << size[1]);
        auto& panel = w.page().evidence;
        for (const int steps : {1, 4, 20}) {
            for (int i = 0; i < steps; ++i)
                Window::key(panel, Key::downKey);
            CHECK(faultsOfLayout(w.view) == std::vector<std::string>{});
        }
        Window::command(panel, 'C');
        CHECK(faultsOfLayout(w.view) == std::vector<std::string>{});
        w.page().readings.askUncertainties();
        w.type({"far too much, whatever it is called", ""});
        CHECK(faultsOfLayout(w.view) == std::vector<std::string>{});
        w.page().readings.addMenu().take("an earphone, typed");
        w.type({"T", "a level that nobody would ever write into such a field, or would they", "", "", ""});
        CHECK(faultsOfLayout(w.view) == std::vector<std::string>{});
    }
}

TEST_CASE("the Fit page that is drawn over shows what one of that size shows at once")
{
    for (const char* name : {"fit", "fit-capturing", "fit-why", "fit-whatif", "fit-readings"}) {
        Window resized(fitNamed(name)), fresh(fitNamed(name), 760, 520);
        resized.view.setSize(760, 520);
        const auto before = shownTexts(resized.view), after = shownTexts(fresh.view);
        INFO(name);
        REQUIRE(before.size() == after.size());
        for (std::size_t i = 0; i < before.size(); ++i) {
            INFO(before[i].text << " at " << before[i].ink.toString() << " and " << after[i].ink.toString());
            CHECK(before[i].text == after[i].text);
            CHECK(before[i].ink == after[i].ink);
        }
    }
}

TEST_CASE("all rows of the sketch's table are seen without scrolling at the usual size")
{
    Window w(sketchedFit());
    for (const char* name : {"bare adapter", "through the coupler", "earphone S"})
        CHECK(w.shows(name));
    CHECK(w.table().getViewport()->getViewHeight() >=
          static_cast<int>(w.table().allRows().size()) * w.table().getRowHeight());
}

TEST_CASE("a Fit page that looks the same repaints nothing")
{
    for (const auto& state : fitStates()) {
        INFO(state.name);
        Watched watched(state);
        for (int i = 0; i < 5; ++i) {
            watched.show(state.view);
            for (const auto& area : watched.areas)
                UNSCOPED_INFO("painted again: " << area.toString());
            CHECK(watched.areas.empty());
        }
    }
}

TEST_CASE("the progress of a reading repaints its mark and little else")
{
    const auto& state = fitNamed("fit-capturing");
    Watched watched(state);
    auto view = state.view;
    view.progress = 0.7;
    watched.show(view);
    CHECK_FALSE(watched.areas.empty());
    CHECK(watched.pixels() < 1100 * 720 / 40);
}

TEST_CASE("a Fit page that is not seen is not painted, and opens with what is new")
{
    const auto& state = fitNamed("fit");
    Watched watched(state);
    watched.w.view.openPage(0);
    auto view = fitNamed("fit-contradicts").view;
    watched.show(view);
    CHECK(watched.areas.empty());
    watched.w.view.openPage(2);
    CHECK(watched.w.shows("contradicts"));
}

TEST_CASE("everything on the Fit page can be reached by keyboard, has a title, and shows a ring when reached")
{
    for (const char* name : {"fit", "fit-capturing", "fit-whatif", "fit-why", "fit-earphone", "fit-bare"}) {
        Window w(fitNamed(name));
        int chips = 0, numbers = 0;
        const std::function<void(juce::Component&)> visit = [&](juce::Component& c) {
            if (!c.isVisible())
                return;
            INFO(name);
            if (auto* chip = dynamic_cast<Chip*>(&c)) {
                ++chips;
                CHECK(chip->getWantsKeyboardFocus() == chip->isEnabled());
                CHECK(chip->getTitle().isNotEmpty());
                CHECK(chip->picture(true).shapes.size() > chip->picture(false).shapes.size());
            }
            if (dynamic_cast<Canvas*>(&c) != nullptr || dynamic_cast<TextField*>(&c) != nullptr)
                CHECK(c.getTitle().isNotEmpty());
            if (dynamic_cast<NumberCanvas*>(&c) != nullptr || dynamic_cast<EvidencePanel*>(&c) != nullptr ||
                dynamic_cast<FitTable*>(&c) != nullptr) {
                ++numbers;
                CHECK(c.getWantsKeyboardFocus());
                CHECK(c.getTitle().isNotEmpty());
            }
            for (auto* child : c.getChildren())
                visit(*child);
        };
        visit(w.page());
        CHECK(chips >= 6);
        CHECK(numbers >= 3);
    }
}

TEST_CASE("rows are told in whole to those who listen")
{
    const auto view = sketchedFit();
    const auto rows = fitRows(view, {});
    CHECK(fitRowSpoken(view, rows[3]) ==
          "silicone collar, readings 4, mean dB 114.71, scatter 0.05, says 1.40, without it 1.62");
    CHECK(fitRowSpoken(view, rows[8]) == "earphone S, rated ±1.0, says 1.47, kept aside");
}
