// SPDX-License-Identifier: GPL-3.0-or-later
#include "FitWindow.h"

using namespace couplet;
using Window = couplet::tests::FitWindow;

TEST_CASE("the sketch's fit shows its table, its plot and its words")
{
    Window w(sketchedFit());
    for (const char* text :
         {"How much does the coupler take away from the calibrator?",
          "Direct: a bare microphone in the calibrator",
          "fitting",
          "readings",
          "mean dB",
          "scatter s",
          "says",
          "without it",
          "bare adapter",
          "116.62",
          "0.45",
          "3.31",
          "1.48",
          "paper shim",
          "115.52",
          "0.20",
          "2.21",
          "1.43",
          "cork sleeve",
          "114.97",
          "0.07",
          "1.66",
          "silicone collar",
          "114.71",
          "0.05",
          "1.40",
          "1.62",
          "through the coupler",
          "113.31",
          "0.04",
          "earphone P",
          "rated ±0.8",
          "1.58",
          "1.44",
          "earphone Q",
          "1.22",
          "earphone R",
          "1.86",
          "1.43",
          "earphone S",
          "kept aside",
          "+ reading",
          "hands-free capture",
          "read from a table file",
          "What each piece of evidence says",
          "correction, dB",
          "what remains",
          "Take 1.44 dB off this calibrator: its 114.02 dB stands for 112.58 dB at the coupler microphone.",
          "Between 0.95 and 2.05 dB (95 %). The silicone collar decides;",
          "An earphone is kept aside: on the Earphones page it can prove the correction.",
          "Use 1.44 dB in this coupler",
          "why?",
          "what would more readings do?",
          "in the coupler now: 1.21 ±0.60 dB",
          "Press the adapter home, wait two seconds, then read."})
        CHECK(w.shows(text));
}

TEST_CASE("what can prove the correction is said as it is")
{
    auto view = sketchedFit();
    for (auto& earphone : view.fit->earphones)
        earphone.keptAside = false;
    CHECK(Window(view).shows("keep one aside for the Earphones page"));
    for (auto& earphone : view.fit->earphones)
        earphone.takesPart = false;
    CHECK(Window(view).shows("No earphone takes part: the fittings alone choose."));
}

TEST_CASE("a capture ends when the page is left: unseen it would go on writing")
{
    Window w(fitNamed("fit-capturing"));
    w.view.openPage(2);
    CHECK(w.fit.asked.empty());
    w.view.openPage(0);
    CHECK(w.fit.asked == couplet::tests::Asked{"no capture"});
    Window idle(sketchedFit());
    idle.view.openPage(0);
    CHECK(idle.fit.asked.empty());
}

TEST_CASE("what is missing or refused is said in words")
{
    CHECK(Window(fitNamed("fit-empty")).shows("No correction yet."));
    CHECK(Window(fitNamed("fit-empty")).shows("No reading counts"));
    CHECK(Window(fitNamed("fit-empty")).shows("Put the bare microphone into the calibrator"));
    CHECK(Window(fitNamed("fit-half")).shows("there is no reading through the coupler"));
    CHECK(Window(fitNamed("fit-half")).shows("116.11")); // the table stands without a result
    CHECK(Window(fitNamed("fit-unusable")).shows("No coupler is chosen"));
    CHECK(Window(fitNamed("fit-used")).shows("are marked as having"));
    CHECK(Window(fitNamed("fit-refused")).shows("'about 115' is no level"));
    CHECK(Window(fitNamed("fit-uncertain")).shows("How sure that is cannot be said"));
    CHECK(Window(fitNamed("fit-uncertain")).shows("takes no part"));
    CHECK(Window(fitNamed("fit-uncertain")).shows("set aside"));
    CHECK(Window(fitNamed("fit-noearphone")).shows("No earphone takes part"));
}

TEST_CASE("an earphone that contradicts the rest is named and marked, and the result is not to be used")
{
    Window w(fitNamed("fit-contradicts"));
    CHECK(w.shows("contradicts"));
    CHECK(w.shows("The evidence falls apart"));
    CHECK_FALSE(w.shows("off this calibrator"));
    CHECK_FALSE(w.press("Use it in this coupler"));
    CHECK(w.fit.asked.empty());
}

TEST_CASE("a microphone that leaves its coupler needs no correction, and the way to that is offered")
{
    Window w(fitNamed("fit-bare"));
    CHECK(w.shows("No correction is needed: this microphone leaves its coupler."));
    CHECK(w.shows("comparison: what is read here says that the coupler takes"));
    CHECK(w.shows("The coupler holds a correction"));
    CHECK(w.press("use the figure all the same"));
    CHECK(w.press("Use no correction in this coupler"));
    CHECK(w.fit.asked == tests::Asked{"use", "use none"});
    Window none(fitNamed("fit-bare-none"));
    CHECK_FALSE(none.shows("The coupler holds a correction"));
    CHECK(none.press("Take the reference bare"));
    CHECK(find<FitPage>(none.view) == nullptr); // the Reference page stands there
    CHECK(none.shows("calibrator plays 94 dB or more"));
}

TEST_CASE("an opened group shows its readings with time, what is set aside and what is odd, the test named")
{
    Window w(fitNamed("fit-readings"));
    for (const char* text : {"reading 2", "7:00 min", "114.72", "set aside: the adap", "7 of 8"})
        CHECK(w.shows(text));
    w.table().select({FitRow::What::reading, {FitKind::fitting, 3}, 7});
    CHECK(w.shows("outlier: Grubbs' 2."));
    CHECK(w.shows("115.62"));
}

TEST_CASE("what is set aside is struck out, so that it is not told by its colour alone")
{
    const juce::SharedResourcePointer<Fonts> fonts;
    FitRowTexts texts;
    texts.name = "reading 2";
    texts.mean = "114.72";
    const FitRow row{FitRow::What::reading, {}, 1};
    const auto counts = fitRowPicture(texts, row, {}, {500.0f, 29.0f}, {}, *fonts);
    texts.aside = true;
    CHECK(fitRowPicture(texts, row, {}, {500.0f, 29.0f}, {}, *fonts).shapes.size() > counts.shapes.size());
}

TEST_CASE("the statistics and every note stand behind why")
{
    Window w(fitNamed("fit-why"));
    for (const char* text : {"Statistics", "error of a fitting's own: 3.8 times its scatter", "What decides"})
        CHECK(w.shows(text));
    CHECK(whyParagraphs(fitNamed("fit-why").view).back().text ==
          "shared by all earphones (reference, voltmeter): u 0.050 dB; the u of earphone P, earphone Q and earphone R "
          "are stated whole and taken to be all their own: what the earphones share, such as the voltmeter, belongs in "
          "the u of the seating");
    CHECK(w.press("close"));
    CHECK(w.shows("What each piece of evidence says"));
    Window odd(fitNamed("fit-readings"));
    CHECK(odd.press("why? 2 notes"));
    std::string all;
    for (const auto& paragraph : whyParagraphs(fitNamed("fit-readings").view))
        all += paragraph.text;
    CHECK_THAT(all, Catch::Contains("Grubbs' test has G") && Catch::Contains("is set aside: the adapter slipped"));
}

TEST_CASE("what more readings would do is answered group by group and pair by pair")
{
    const auto view = fitNamed("fit-whatif").view;
    std::string all;
    for (const auto& paragraph : whatIfParagraphs(view))
        all += paragraph.text + "\n";
    CHECK_THAT(all, Catch::Contains("To bring U to 0.54 dB, of one group alone") &&
                        Catch::Contains("silicone collar: ") && Catch::Contains("through the coupler: ") &&
                        Catch::Contains("To tell apart what is not told apart now") &&
                        Catch::Contains("bare adapter and paper shim"));
    CHECK(Window(fitNamed("fit-whatif")).shows("To bring U to 0.54 dB"));
    auto without = view;
    without.whatIf.reset();
    CHECK(whatIfParagraphs(without).front().text == "U is ±0.55 dB now. Say what it should be.");
}

TEST_CASE("the capture is seen from afar: its state, the last reading and how many there are are large")
{
    const auto largest = [](Window& w, const std::string& text) {
        float height = 0.0f;
        for (const auto& shown : shownTexts(w.view))
            if (shown.text == text)
                height = std::max(height, shown.ink.getHeight());
        return height;
    };
    for (const int width : {760, 1100}) {
        Window reading(fitNamed("fit-capturing"), width, width == 760 ? 520 : 720);
        Window lift(fitNamed("fit-lift"), width, width == 760 ? 520 : 720);
        INFO(width);
        CHECK(largest(reading, "114.72") > 30.0f);
        CHECK(largest(reading, "4") > 30.0f);
        CHECK(largest(reading, "reading") > 20.0f);
        CHECK(largest(lift, "lift it off") > 20.0f);
        CHECK(reading.shows("The tone is steady; hold still."));
        CHECK(reading.shows("Take 1.44 dB off this calibrator")); // the result stays in sight
    }
}

TEST_CASE("a reading that is kept flashes a mark, in words too")
{
    Window w(fitNamed("fit-capturing"));
    const auto flashes = [&w] {
        for (const auto& text : shownTexts(w.view))
            if (text.text == "kept")
                return true;
        return false;
    };
    CHECK_FALSE(flashes());
    auto view = fitNamed("fit-lift").view;
    view.kept = 5;
    view.revision += 10;
    w.view.showFit(view);
    CHECK(flashes());
    find<FitCapturePanel>(w.view)->endFlash();
    CHECK_FALSE(flashes());
}

TEST_CASE("a single reading is told of before the plot comes back")
{
    Window w(fitNamed("fit-capturing"));
    auto view = sketchedFit();
    view.kept = 5;
    view.lastKept_dB = 114.73;
    view.revision += 10;
    w.view.showFit(view);
    CHECK(w.shows("114.73"));
    CHECK(w.shows("kept"));
    CHECK_FALSE(w.shows("What each piece of evidence says"));
    CHECK(FitCapturePanel::flash_ms < 2000);
    find<FitCapturePanel>(w.view)->endFlash();
    CHECK(w.shows("What each piece of evidence says"));
    CHECK_FALSE(w.shows("114.73"));
}

TEST_CASE("an earphone that was not read yet says nothing")
{
    const auto view = fitNamed("fit-names").view;
    const auto texts = fitRowTexts(view, {FitRow::What::earphone, {FitKind::earphone, 2}, 0});
    CHECK(texts.note == "not read yet");
    CHECK(texts.says.empty());
    CHECK(Window(view).shows("not read yet"));
}

TEST_CASE("what is still being worked out says so")
{
    auto view = sketchedFit();
    view.whatIfWorking = true;
    CHECK(whatIfParagraphs(view).back().text == "It is being worked out, group by group.");
    view = fitNamed("fit-whatif").view;
    view.whatIfWorking = true;
    for (const auto& paragraph : whatIfParagraphs(view))
        CHECK_THAT(paragraph.text, !Catch::StartsWith("through the coupler"));
}

TEST_CASE("a simulated bench is called simulated beside what it gave")
{
    Window w(fitNamed("fit-simulated"));
    int count = 0;
    for (const auto& text : shownTexts(w.view))
        count += text.text.find("simulated") != std::string::npos ? 1 : 0;
    CHECK(count >= 2); // the plot and the result
    CHECK(w.shows("working"));
    CHECK(Window(fitNamed("fit-waiting")).shows("simulated"));
}
