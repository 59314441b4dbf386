// SPDX-License-Identifier: GPL-3.0-or-later
#include "FitWindow.h"

#include "Quantities/QuantityText.h"
#include "Screens/CopiedNumbers.h"

#include <algorithm>
#include <functional>

using namespace couplet;
using Window = couplet::tests::FitWindow;
using couplet::tests::Asked;

namespace {

// Letters that the ring around a number runs through, over all numbers of a picture.
std::vector<std::string> lettersCutByRings(const Picture& picture)
{
    const juce::SharedResourcePointer<Fonts> fonts;
    std::vector<std::string> cut;
    for (const auto& number : numbersIn(picture, *fonts)) {
        Picture ringed = picture;
        ringNumber(ringed, number);
        const auto& ring = ringed.shapes.back();
        const auto middle = ring.path.getBounds();
        const auto outer = middle.expanded(ring.stroke / 2.0f), inner = middle.reduced(ring.stroke / 2.0f);
        for (const auto& text : picture.texts) {
            const auto whole = juce::String::fromUTF8(text.text.c_str());
            const auto font = fonts->font(text.style, whole);
            for (int i = 0; i < whole.length(); ++i) {
                if (whole[i] == ' ')
                    continue;
                const float x = text.left() + font.getStringWidthFloat(whole.substring(0, i));
                const float end = text.left() + font.getStringWidthFloat(whole.substring(0, i + 1));
                const bool below = juce::String("gjpqy,;()").containsChar(whole[i]);
                const juce::Rectangle<float> letter(x, text.baseline() - 0.75f * text.style.size, end - x,
                                                    (below ? 0.95f : 0.75f) * text.style.size);
                const auto ink = letter.reduced(0.4f);
                if (outer.intersects(ink) && !inner.contains(ink))
                    cut.push_back(number.text + " cuts '" + whole.substring(i, i + 1).toStdString() + "' of '" +
                                  text.text + "'");
            }
        }
    }
    return cut;
}

EvidencePlot plotOf(const FitView& view)
{
    return EvidencePlot::within(evidenceItems(view), *view.fit, {468.0f, 330.0f}, {});
}

// Earphone P has a wide range, or earphone S, which is kept aside, is far off.
FitView wideRange()
{
    auto input = sketchedReadings();
    input.earphones[0].tolerance_dB = 30.0;
    return fitOf(input, sketchedFit());
}
FitView farOff()
{
    auto input = sketchedReadings();
    input.earphones[3].level_dB = input.earphones[3].expected_dB + 30.0;
    return fitOf(input, sketchedFit());
}

} // namespace

TEST_CASE("what lies on the simulated coupler is chosen on the Fit page, and the bar goes with the bench")
{
    for (const auto& size : {std::pair{760, 520}, std::pair{1100, 720}}) {
        Window w(fitNamed("fit-waiting"), size.first, size.second);
        CHECK(w.press("nothing")); // as the calibrator is taken off
        CHECK(w.controls.simulated.what == OnCoupler::What::nothing);
        CHECK(w.press("calibrator")); // and fitted anew
        CHECK(w.controls.simulated.what == OnCoupler::What::calibrator);
        CHECK(w.controls.asked == Asked{"simulate", "simulate"});
        const int before = w.page().readings.getY();
        w.view.show(agreeing());
        CHECK_FALSE(w.shows("nothing"));
        CHECK(w.page().readings.getY() < before);
        CHECK(faultsOfLayout(w.view) == std::vector<std::string>{});
    }
}

TEST_CASE("below the bar of the simulated bench an answer is still seen")
{
    Window w(fitNamed("fit-simulated"), 760, 520);
    Window::command(w.page().evidence, 'C');
    CHECK(w.shows("copied "));
    CHECK(faultsOfLayout(w.view) == std::vector<std::string>{});
}

TEST_CASE("the axis is as wide as the result needs, however far one earphone is off or wide its range")
{
    const auto usual = plotOf(sketchedFit()), far = plotOf(farOff()), wide = plotOf(wideRange());
    const auto width = [](const EvidencePlot& plot) { return plot.high_dB - plot.low_dB; };
    CHECK(width(far) <= 1.1 * width(usual));
    CHECK(width(wide) < 2.0 * width(usual));
    for (const auto& state : fitStates()) {
        if (!state.view.fit || state.name == "fit-wide") // there the result lies between two camps
            continue;
        INFO(state.name);
        const auto plot = plotOf(state.view);
        const auto& all = state.view.fit->posterior.all;
        CHECK(width(plot) < std::max(9.0 * (all.high_dB - all.low_dB), 5.0));
    }
}

TEST_CASE("a range that the axis cuts ends in an arrow with its number, and so does what is said beyond it")
{
    const auto wide = wideRange();
    const auto item = evidenceItems(wide)[4];
    REQUIRE(item.name == "earphone P");
    REQUIRE(item.range);
    CHECK_FALSE(plotOf(wide).holds(item.range->low_dB));
    CHECK_FALSE(plotOf(wide).holds(item.range->high_dB));
    Window w(wide);
    CHECK(w.shows(levelText(item.range->low_dB)));
    CHECK(w.shows(levelText(item.range->high_dB)));
    CHECK_FALSE(Window(sketchedFit()).shows(levelText(evidenceItems(sketchedFit())[4].range->high_dB)));

    const auto far = farOff();
    CHECK_FALSE(plotOf(far).holds(evidenceItems(far)[7].says_dB));
    for (const auto& size : {std::pair{760, 520}, std::pair{1100, 720}}) {
        Window edge(NamedFit{"", far}, size.first, size.second);
        CHECK(shows(edge.page().evidence, levelText(evidenceItems(far)[7].says_dB)));
        CHECK(faultsOfLayout(edge.view) == std::vector<std::string>{});
    }
}

TEST_CASE("what more readings need not do is said once, whatever the number of groups")
{
    auto view = fitNamed("fit-whatif").view;
    const auto times = [&view](const std::string& part) {
        int count = 0;
        for (const auto& paragraph : whatIfParagraphs(view))
            count += paragraph.text.find(part) != std::string::npos ? 1 : 0;
        return count;
    };
    auto& more = view.whatIf->more;
    std::fill(more.ofFitting.begin(), more.ofFitting.end(), std::size_t{0});
    more.ofThrough = 0;
    CHECK(times("it is there already") == 1);
    more.ofFitting = {std::nullopt, 1, std::nullopt, 12};
    more.ofThrough = std::nullopt;
    CHECK(times("bare adapter, cork sleeve, through the coupler: not with 1000 more") == 1);
    CHECK(times("paper shim: 1 more reading") == 1);
    CHECK(times("silicone collar: 12 more readings") == 1);
    std::fill(more.ofFitting.begin(), more.ofFitting.end(), std::nullopt);
    CHECK(times("not with 1000 more") == 1);
    CHECK(times("no group can do it alone") == 1);
}

TEST_CASE("a calibrator's name is shortened where its level does not stand")
{
    const juce::SharedResourcePointer<Fonts> fonts;
    const Pen pen(*fonts);
    const TextStyle style{12.0f};
    const auto within = [&](const std::string& name, float room) {
        const auto text = pen.shortenedAroundNumber(name, room, style);
        CHECK(pen.width(text, style) <= room);
        return text;
    };
    CHECK_THAT(within("Calibrator 114.02 dB", 100.0f), Catch::StartsWith("C") && Catch::EndsWith("… 114.02 dB"));
    CHECK(within("Calibrator 114.02 dB", 72.0f) == "114.02 dB");
    CHECK_THAT(within("Calibrator 94dB, the one of the laboratory", 90.0f), Catch::EndsWith("94dB,"));
    CHECK_THAT(within("Calibrator 94.00 dB no. 4711", 110.0f), Catch::EndsWith("94.00 dB"));
    CHECK(within("Old pistonphone of the bench", 90.0f) == pen.shortened("Old pistonphone of the bench", 90.0f, style));
    for (const auto& size : {std::pair{760, 520}, std::pair{1100, 720}})
        CHECK(Window(NamedFit{"", sketchedFit()}, size.first, size.second).shows("114.02 dB"));
}

TEST_CASE("the ring around a number runs through no letter")
{
    for (const auto& size : {std::pair{760, 520}, std::pair{1100, 720}})
        for (const char* name : {"fit", "fit-contradicts", "fit-used", "fit-waiting", "fit-lift", "fit-why"}) {
            Window w(fitNamed(name), size.first, size.second);
            INFO(name << " at " << size.first);
            int looked = 0;
            const std::function<void(juce::Component&)> visit = [&](juce::Component& c) {
                if (!c.isVisible())
                    return;
                if (auto* canvas = dynamic_cast<NumberCanvas*>(&c)) {
                    ++looked;
                    CHECK(lettersCutByRings(canvas->picture()) == std::vector<std::string>{});
                }
                for (auto* child : c.getChildren())
                    visit(*child);
            };
            visit(w.page());
            CHECK(looked > 0);
        }
}

TEST_CASE("the ring around words without a number stands clear of them")
{
    for (const auto& size : {std::pair{760, 520}, std::pair{1100, 720}})
        for (const char* name : {"fit", "fit-used", "fit-empty", "fit-bare", "fit-lift"}) {
            Window w(fitNamed(name), size.first, size.second);
            INFO(name << " at " << size.first);
            const std::function<void(juce::Component&)> visit = [&](juce::Component& c) {
                if (!c.isVisible())
                    return;
                if (auto* canvas = dynamic_cast<NumberCanvas*>(&c); canvas != nullptr && canvas->getWidth() > 300)
                    for (const auto& text : canvas->picture().texts)
                        CHECK(text.baseline() + 0.2f * text.style.size <
                              static_cast<float>(canvas->getHeight()) - 2.4f);
                for (auto* child : c.getChildren())
                    visit(*child);
            };
            visit(w.page());
        }
}
