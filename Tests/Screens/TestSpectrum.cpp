// SPDX-License-Identifier: GPL-3.0-or-later
#include "IdleControls.h"
#include "InventedSpectrum.h"
#include "Screens/LevelRange.h"
#include "Screens/SpectrumPanel.h"
#include "ShownTexts.h"
#include "States.h"

#include <catch2/catch.hpp>

using namespace couplet;
using Asked = std::vector<std::string>;

namespace {

struct Window
{
    IdleControls controls;
    MainView view{controls};

    explicit Window(const std::string& state, int width = 1100, int height = 720)
    {
        view.setVisible(true);
        view.setSize(width, height);
        show(view, wholeState(state));
    }
    bool shows(const std::string& part) { return couplet::shows(view, part); }
    SpectrumPanel& panel() { return *find<SpectrumPanel>(view); }

    // The pointer at a frequency, half way down the plot.
    juce::MouseEvent at(double frequency_Hz, bool right = false)
    {
        const auto size = panel().getLocalBounds().getBottomRight().toFloat();
        const auto measures = Measures::of(static_cast<float>(view.getWidth()), static_cast<float>(view.getHeight()));
        const auto plot = SpectrumPlot::within(size, {}, measures);
        const juce::Point<float> here(plot.x(frequency_Hz), plot.area.getCentreY());
        return {juce::Desktop::getInstance().getMainMouseSource(),
                here,
                juce::ModifierKeys(right ? juce::ModifierKeys::rightButtonModifier : 0),
                0.0f,
                0.0f,
                0.0f,
                0.0f,
                0.0f,
                &panel(),
                &panel(),
                {},
                here,
                {},
                1,
                false};
    }
};

std::string everyText(juce::Component& window)
{
    std::string all;
    for (const auto& text : shownTexts(window))
        all += text.text + " ";
    return all;
}

} // namespace

TEST_CASE("S steps through the three views, and the spectrum is asked for only while one of them needs it")
{
    Window w("agreeing");
    const auto key = [&w] { return w.view.keyPressed(juce::KeyPress('S')); };
    CHECK(key());
    CHECK(w.shows("gathering: "));
    CHECK(key());
    CHECK(key());
    CHECK(w.shows("expected"));
    CHECK(w.controls.asked == Asked{"spectrum", "spectrum", "no spectrum"});
    w.view.openPage(2);
    CHECK_FALSE(key());
    w.view.openPage(0);
    w.view.setFarView(true);
    CHECK_FALSE(key());
    CHECK(w.controls.asked.size() == 3);
}

TEST_CASE("each view is chosen by its word, and stays through other sizes and pages")
{
    Window w("agreeing");
    CHECK(press(w.view, "Orders"));
    CHECK(press(w.view, "Orders"));
    CHECK(press(w.view, "Spectrum"));
    w.view.show(wholeState("spectrum").view);
    w.view.setSize(760, 520);
    w.view.openPage(1);
    w.view.openPage(0);
    CHECK(w.shows("bands: third octaves"));
    CHECK(press(w.view, "Last 60 s"));
    CHECK_FALSE(w.shows("bands: third octaves"));
    CHECK(w.controls.asked == Asked{"spectrum", "spectrum", "no spectrum"});
}

TEST_CASE("the spectrum says what its lines and bands are, and numbers the tone and its orders")
{
    Window w("spectrum");
    for (const char* text : {"lines: flat-top HFT95, 0.68 s, 5.6 Hz wide, 4 averaged", "bands: third octaves", "dB SPL",
                             "20 Hz", "50", "100", "200", "500", "1k", "2k", "5k", "10k", "20k"})
        CHECK(w.shows(text));
    const std::string all = everyText(w.view);
    CHECK_THAT(all, Catch::Contains("20k") && Catch::Contains(" 1 2 3 4 5 6 "));
    CHECK(Window("spectrum-unreferenced").shows("dBFS, no reference"));
    CHECK(Window("spectrum-simulated").shows("dB SPL, simulated"));
    for (const int width : {760, 1100})
        CHECK(Window("spectrum", width, 520).shows("lines: "));
}

TEST_CASE("where there is nothing to draw a sentence says why")
{
    CHECK(Window("spectrum-gathering").shows("gathering: "));
    CHECK(Window("spectrum-why-not").shows("samples that are no numbers"));
    CHECK(Window("spectrum-no-audio").shows("nothing has arrived for a second"));
    // In the panel it stands on one line; in the page's column it takes two.
    CHECK(Window("orders-no-tone").shows(wholeState("orders-no-tone").view.reading.tone.whyNoLevel));
    LiveView view = wholeState("spectrum").view;
    for (auto& point : view.spectrum->lines)
        point.level_dB.reset();
    for (auto& band : view.spectrum->bands)
        band.level_dB.reset();
    Window none("spectrum");
    none.view.show(view);
    CHECK(none.shows("response table does not reach any"));
}

TEST_CASE("orders show frequency, distance from the tone and percent, and which are lost in the noise")
{
    Window w("orders");
    for (const char* text : {"total distortion 0.08 %", "1000.0", "63.1", "0.0700", "90.2", "0.00310", "5000.1"})
        CHECK(w.shows(text));
    CHECK(w.shows("not above"));
    CHECK(Window("orders-few").shows("half the sampling rate"));
    CHECK_FALSE(Window("orders").shows("half the sampling rate"));
}

TEST_CASE("the pointer names the line, the band and the microphone's response beneath it")
{
    for (const int width : {760, 1100}) {
        Window w("spectrum", width, width == 760 ? 520 : 720);
        w.panel().mouseMove(w.at(1000.02));
        const std::string all = everyText(w.view);
        CHECK_THAT(all, Catch::Contains("line 1000.") || Catch::Contains("line 999."));
        CHECK_THAT(all, Catch::Contains("30.9 dB SPL") && Catch::Contains("band 1 kHz") &&
                            Catch::Contains("taken out") && !Catch::Contains("not taken out"));
        CHECK_FALSE(w.shows("bands: third octaves"));
        CHECK_THAT(faultsOfLayout(w.view), Catch::Equals(std::vector<std::string>{}));
        w.panel().mouseExit(w.at(1000.0));
        CHECK(w.shows("bands: third octaves"));
    }
    Window bare("spectrum-unreferenced");
    bare.panel().mouseMove(bare.at(1000.02));
    CHECK(bare.shows("not taken out"));
    CHECK(bare.shows(" dBFS"));
    Window gaps("spectrum-gaps");
    gaps.panel().mouseMove(gaps.at(16000.0));
    CHECK(gaps.shows("Hz  no value"));
    CHECK(gaps.shows("band 16 kHz  no value"));
}

TEST_CASE("a right click copies what is shown as a table, with absent numbers empty")
{
    Window w("spectrum-gaps");
    juce::String copied;
    w.panel().toClipboard = [&copied](const juce::String& text) { copied = text; };
    w.panel().mouseDown(w.at(1000.0, true));
    CHECK(w.shows("copied as a table"));
    const auto spectrum = wholeState("spectrum-gaps").view.spectrum;
    const auto lines = juce::StringArray::fromLines(copied);
    CHECK(copied.startsWith("Spectrum, dB SPL; microphone response taken out"));
    int tabs = 0, empty = 0;
    for (const auto& line : lines) {
        tabs += line.containsChar('\t') ? 1 : 0;
        empty += line.endsWithChar('\t') ? 1 : 0;
    }
    CHECK(tabs == static_cast<int>(spectrum->lines.size() + spectrum->bands.size()) + 2); // and two headings
    CHECK(empty > 10);
    CHECK(lines.contains("16000\t"));
    w.panel().mouseMove(w.at(2000.0));
    CHECK_FALSE(w.shows("copied"));

    Window orders("orders");
    orders.panel().toClipboard = [&copied](const juce::String& text) { copied = text; };
    orders.panel().mouseDown(orders.at(1000.0, true));
    CHECK(copied.contains("2\t1000.02\t63.10\t0.0700\n"));
    CHECK(copied.contains("10\t5000.10\t\t\n"));
}

TEST_CASE("gaps in the levels are gaps in the curve")
{
    const juce::SharedResourcePointer<Fonts> fonts;
    LiveView view = wholeState("spectrum").view;
    const auto highest = [&] {
        const auto content = spectrumContent(view);
        const auto plot = SpectrumPlot::within({1044.0f, 206.0f}, {-20.0, 100.0, 20.0}, {});
        int pieces = 0;
        for (const auto& shape : spectrumPicture(content, plot, {}, *fonts).shapes)
            if (shape.stroke > 0.0f && shape.colour == colours::measured)
                for (juce::Path::Iterator i(shape.path); i.next();)
                    pieces += i.elementType == juce::Path::Iterator::startNewSubPath ? 1 : 0;
        return pieces;
    };
    CHECK(highest() == 1);
    view.spectrum->lines[100].level_dB.reset();
    view.spectrum->lines[200].level_dB.reset();
    CHECK(highest() == 3);
    view.spectrum->lines[200].level_dB = -std::numeric_limits<double>::infinity();
    CHECK(highest() == 3);
}

TEST_CASE("a plot's range holds the curve and does not follow small changes")
{
    const auto first = rangeFollowing({}, -6.0, 94.0);
    CHECK(first == LevelRange{-20.0, 100.0, 20.0});
    CHECK(rangeFollowing(first, -19.0, 99.0) == first);
    CHECK(rangeFollowing(first, 10.0, 80.0) == first);
    const auto higher = rangeFollowing(first, -6.0, 100.5);
    CHECK(higher.high_dB == 120.0);
    CHECK(rangeFollowing(higher, -6.0, 99.0) == higher); // back over the edge, and it stays
    CHECK(rangeFollowing(first, -6.0, 40.0) == LevelRange{-10.0, 50.0, 10.0});
    CHECK(rangeFollowing(first, -128.0, -28.0).high_dB == -20.0); // the reference is gone
    const auto wide = rangeFollowing({}, -400.0, 90.0);
    CHECK(wide.high_dB - wide.low_dB <= 160.0);
}

TEST_CASE("results that follow each other closely are drawn every 200 ms at most")
{
    LiveView view = wholeState("spectrum").view;
    Window w("spectrum");
    const auto shown = [&w](const char* level) { return w.panel().table().find(level) != std::string::npos; };
    const auto pause = [] { juce::Thread::sleep(SpectrumPanel::leastPause_ms + 30); };
    pause();
    view.spectrum->lines[100].level_dB = 44.44;
    w.view.show(view);
    view.spectrum->lines[100].level_dB = 55.55;
    w.view.show(view);
    CHECK(shown("44.44"));
    CHECK_FALSE(shown("55.55"));
    pause();
    w.view.show(view);
    CHECK(shown("55.55"));
    view.hold = true; // another sense, at once
    w.view.show(view);
    CHECK(w.shows("dB SPL, held"));
}

TEST_CASE("a panel as low as the page allows still has a curve, its axis and the orders' numbers")
{
    for (const int height : {60, 66, 72, 80, 90, 110, 134})
        for (const bool orders : {false, true}) {
            INFO(height << (orders ? ", orders" : ", spectrum"));
            SpectrumPanel panel;
            panel.setVisible(true);
            panel.setSize(704, height);
            panel.setLegendStart(190.0f);
            panel.showOrders(orders);
            panel.show(wholeState("spectrum").view, Measures::of(smallestWidth, smallestHeight));
            CHECK_THAT(faultsOfLayout(panel), Catch::Equals(std::vector<std::string>{}));
            CHECK(couplet::shows(panel, orders ? "63.1" : "10k"));
            const auto plot = SpectrumPlot::within({704.0f, static_cast<float>(height)}, {}, {0.0f});
            CHECK(plot.area.getHeight() >= 18.0f);
        }
}
