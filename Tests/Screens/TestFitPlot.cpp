// SPDX-License-Identifier: GPL-3.0-or-later
#include "FitWindow.h"

#include "Quantities/QuantityText.h"

using namespace couplet;
using Window = couplet::tests::FitWindow;

TEST_CASE("several peaks are marked in the plot, and what lies outside its range stands at its edge with its number")
{
    const auto count = [](const FitView& view) {
        const juce::SharedResourcePointer<Fonts> fonts;
        const auto items = evidenceItems(view);
        const auto plot = EvidencePlot::within(items, *view.fit, {468.0f, 330.0f}, {});
        return evidencePicture(items, *view.fit, plot, {}, {}, *fonts).shapes.size();
    };
    auto peaks = fitNamed("fit-peaks").view;
    REQUIRE(peaks.fit->posterior.peaks_dB.size() > 1);
    const auto marked = count(peaks);
    const auto number = peaks.fit->posterior.peaks_dB.size();
    CHECK_FALSE(peaks.fit->hasUncertainty());
    peaks.fit->posterior.peaks_dB.resize(1); // an interval now: it has a line
    CHECK(marked == count(peaks) - 1 + number);

    const auto far = fitNamed("fit-far").view;
    const auto items = evidenceItems(far);
    const auto plot = EvidencePlot::within(items, *far.fit, {468.0f, 330.0f}, {});
    CHECK_FALSE(plot.holds(items[0].says_dB));
    CHECK(plot.holds(far.fit->correction_dB()));
    CHECK(Window(far).shows(levelText(items[0].says_dB)));
}

TEST_CASE("the plot's range holds the result and every item that is not far off")
{
    for (const auto& state : fitStates()) {
        if (!state.view.fit)
            continue;
        INFO(state.name);
        const auto items = evidenceItems(state.view);
        const auto plot = EvidencePlot::within(items, *state.view.fit, {468.0f, 330.0f}, {});
        CHECK(plot.holds(state.view.fit->posterior.all.low_dB));
        CHECK(plot.holds(state.view.fit->posterior.all.high_dB));
        CHECK((plot.high_dB - plot.low_dB) / plot.step_dB < 8.5);
        if (state.name != "fit-far" && state.name != "fit-wide")
            for (const auto& item : items)
                CHECK(plot.holds(item.says_dB));
    }
}

TEST_CASE("names in the plot stand clear of each other, and in a low card the density makes room for them")
{
    const auto view = sketchedFit();
    const auto items = evidenceItems(view);
    float before = 0.0f;
    for (float height = 120.0f; height <= 340.0f; height += 4.0f) {
        CAPTURE(height);
        const auto plot = EvidencePlot::within(items, *view.fit, {298.0f, height}, Measures::of(760.0f, 520.0f));
        CHECK(plot.densityHeight >= 18.0f);
        CHECK(plot.y(items.size() - 1) + plot.pitch / 2.0f <= plot.base - plot.densityHeight);
        CHECK(plot.pitch >= before); // lower cards are never roomier
        before = plot.pitch;
        if (plot.named)
            CHECK(plot.nameSize < plot.pitch);
        if (height >= 168.0f) // the lowest that the page makes
            CHECK(plot.pitch >= 11.5f);
    }
}

TEST_CASE("times are told since the first reading")
{
    CHECK(sinceFirstText(0.0) == "0:00 min");
    CHECK(sinceFirstText(35.4) == "0:35 min");
    CHECK(sinceFirstText(7805.0) == "2:10:05 h");
    CHECK(sinceFirstText(-65.0) == "−1:05 min");
}

TEST_CASE("64 fittings, 200 earphones and 10,000 readings are shown within two pictures' time")
{
    const auto many = fitNamed("fit-many").view;
    Window few(sketchedFit()), w(many);
    CHECK(w.table().allRows().size() == 265);
    w.table().toggle({FitKind::fitting, 0});
    CHECK(w.table().allRows().size() > 400);
    const auto timed = [](Window& window, FitView view) {
        double best_ms = 1e9;
        for (int i = 0; i < 5; ++i) {
            ++view.revision;
            view.progress = 0.1 * i;
            const auto start = juce::Time::getMillisecondCounterHiRes();
            window.view.showFit(view);
            best_ms = std::min(best_ms, juce::Time::getMillisecondCounterHiRes() - start);
        }
        return best_ms;
    };
    const double few_ms = timed(few, sketchedFit()), many_ms = timed(w, many);
    WARN("a view of 10,000 readings is shown in " << many_ms << " ms, one of 21 in " << few_ms << " ms");
    CHECK(many_ms < 12.0 * few_ms + 5.0);
}
