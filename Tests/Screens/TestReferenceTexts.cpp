// SPDX-License-Identifier: GPL-3.0-or-later
#include "ReferenceWindow.h"

#include "Screens/ControlChartPicture.h"
#include "Screens/ReferenceTonePicture.h"
#include "Screens/ReferenceWords.h"

using namespace couplet;
using namespace couplet::tests;

namespace {

void checkShows(ReferenceWindow& w, const std::vector<std::string>& texts)
{
    for (const auto& text : texts) {
        INFO(text);
        CHECK(w.shows(text));
    }
}

std::string allOf(ReferenceWindow& w)
{
    std::string all;
    for (const auto& text : shownTexts(w.view))
        all += text.text + " ";
    return all;
}

} // namespace

TEST_CASE("the sketch's capture shows its sum, its checks and how far it is")
{
    ReferenceWindow w("capturing");
    checkShows(w, {"What does full scale stand for at this microphone?",
                   "field calibrator",
                   "certified level, 1 kHz",
                   "114.02",
                   "static pressure: regulates itself",
                   "0.00",
                   "taken by the coupler",
                   "\u22121.36",
                   "at the coupler microphone",
                   "112.66",
                   "less the tone at the input",
                   "\u22129.31",
                   "offset, dB SPL at 0 dBFS",
                   "+121.97",
                   "the one before, 22 h ago: +122.00",
                   "\u22120.03",
                   "class 1 limits",
                   "1000 Hz within 0.7 %",
                   "1000.04 Hz",
                   "steady within 0.07 dB",
                   "0.01 dB",
                   "distortion below 2.5 %",
                   "0.43 %",
                   "30 dB above the noise",
                   "81.3 dB",
                   "headroom, 3 dB",
                   "9.3 dB",
                   "step to 94.03 dB, 19.99",
                   "19.98 dB",
                   "last time, within",
                   "\u22120.03 dB",
                   "Capturing",
                   "seating 2 of 3 \u00b7 7.0 of 10 s kept",
                   "Offset of this coupler, 23 references",
                   "gain moved, set aside",
                   "Where the \u00b10.47 dB comes from",
                   "correction, with the calibrator",
                   "94 %   0.225",
                   "seating it again",
                   "5 %   0.050",
                   "Cancel"});
}

TEST_CASE("the correction is told with its origin")
{
    CHECK(ReferenceWindow("idle").shows("fit of 2026-05-03, mostly the silicone collar"));
    ReferenceView bare;
    bare.coupler = "a microphone";
    CHECK(originWords(bare) == "no correction: as for a bare microphone");
}

TEST_CASE("each state of a capture has its own sign, by words and by form")
{
    std::vector<std::string> seen;
    for (const auto& [name, words] : std::vector<std::pair<std::string, std::string>>{{"idle", "Fit"},
                                                                                      {"waiting", "Waiting"},
                                                                                      {"armed", "Hands-free"},
                                                                                      {"capturing", "Capturing"},
                                                                                      {"lift", "Lift"},
                                                                                      {"refused", "Refused"},
                                                                                      {"cancelled", "Cancelled"},
                                                                                      {"done", "Done"},
                                                                                      {"nothing", "Not ready"},
                                                                                      {"holds", "Holds"},
                                                                                      {"cannot-tell", "Cannot tell"}}) {
        ReferenceWindow w(name);
        INFO(name);
        CHECK(w.shows(words));
        CHECK(std::find(seen.begin(), seen.end(), words) == seen.end());
        seen.push_back(words);
        const auto sign = stateSign(referenceState(name).view);
        CHECK(sign.mark.has_value());
        CHECK(sign.runs == runs(referenceState(name).view.state));
    }
}

TEST_CASE("a check that fails is told from one that passes by the form of its mark")
{
    const juce::SharedResourcePointer<Fonts> fonts;
    auto view = referenceState("idle").view;
    const auto good = referenceTonePicture(view, {300.0f, 330.0f}, {}, *fonts);
    view.checks[0].passes = false;
    const auto bad = referenceTonePicture(view, {300.0f, 330.0f}, {}, *fonts);
    std::vector<juce::Path> before, after;
    for (const auto& shape : good.shapes)
        before.push_back(shape.path);
    for (const auto& shape : bad.shapes)
        after.push_back(shape.path);
    CHECK_FALSE(before == after);
}

TEST_CASE("a tone that is refused says why, in words, and marks what fails")
{
    ReferenceWindow w("refused");
    const auto all = allOf(w);
    CHECK_THAT(all, Catch::Contains("is the calibrator's battery low"));
    CHECK_THAT(all, Catch::Contains("987.20 Hz"));
    CHECK_THAT(all, Catch::Contains("5.10 %"));
    CHECK_THAT(all, Catch::Contains("Distortion and noise come to 5.1 %"));
    CHECK_THAT(all, Catch::Contains("Only 2.1 dB are left to full scale"));
}

TEST_CASE("a quick check says that it holds, or by how much it moved and why that may be")
{
    ReferenceWindow holds("holds"), moved("moved"), seat("moved-seat"), unsure("cannot-tell");
    CHECK_THAT(allOf(holds), Catch::Contains("Nothing was stored."));
    checkShows(moved, {"Moved by +5.99 dB", "take it as reference"});
    CHECK_THAT(allOf(moved), Catch::Contains("a step of 6.02 dB"));
    CHECK_THAT(allOf(seat), Catch::Contains("the seating: a calibrator that is not fully on"));
    CHECK_THAT(allOf(seat), Catch::Contains("the calibrator's battery, or the microphone's bias voltage"));
    CHECK_THAT(allOf(unsure), Catch::Contains("0.21 dB"));
}

TEST_CASE("a reference that was just taken is told with its change and when the next is due")
{
    ReferenceWindow w("done");
    checkShows(w, {"+121.97", "the one before: +122.00", "Offset of this coupler, 24 references", "in force", "undo",
                   "due in 24 h"});
}

TEST_CASE("the history is told with its band, its drift and when it is due")
{
    ReferenceWindow w("idle"), few("few"), stale("stale"), first("first");
    CHECK_THAT(allOf(w), Catch::Contains("band: mean \u00b1 3 s, s = 0.05, of the references kept"));
    CHECK_THAT(allOf(w), Catch::Contains("dB a day"));
    CHECK_THAT(allOf(w), Catch::Contains("due in 1 h, 2026-05-03 15:40"));
    CHECK_THAT(allOf(few), Catch::Contains("limits need 5 references that count; 3 do"));
    CHECK_THAT(allOf(stale), Catch::Contains("stale for"));
    CHECK_THAT(allOf(stale), Catch::Contains("Stale, referenced"));
    checkShows(first, {"no reference yet", "Offset of this coupler, 0 references", "the first of this coupler"});
}

TEST_CASE("what is set aside and what counts are drawn otherwise, and what is far off does not press the rest flat")
{
    const auto history = referenceState("history").view.history;
    const auto range = chartRange(history);
    CHECK(range.high_dB - range.low_dB < 1.0); // although 6 dB off were set aside
    CHECK(range.low_dB < *history.chart.low_dB);
    CHECK(range.high_dB > *history.chart.high_dB);
    const auto sketched = chartRange(referenceState("capturing").view.history);
    CHECK(sketched.high_dB > 122.24); // near enough to be seen in its place
    ReferenceHistory one;
    one.points.push_back({});
    one.points.back().offset_dB = one.points.back().chain_dB = 121.97;
    one.points.back().current = true;
    const auto narrow = chartRange(one);
    CHECK(narrow.low_dB < 121.97);
    CHECK(narrow.high_dB > 121.97);
    CHECK(pointNear(history, 0.0f, {380.0f, 200.0f}, {}) == std::optional<std::size_t>(0));
    CHECK(pointNear(history, 380.0f, {380.0f, 200.0f}, {}) == std::optional<std::size_t>(299));
    CHECK_FALSE(pointNear({}, 10.0f, {380.0f, 200.0f}, {}));
}

TEST_CASE("the table has every reference with its date, uncertainty, calibrator and standing")
{
    ReferenceWindow w("table");
    checkShows(w, {"taken, UTC", "2026-05-03 14:04", "2026-05-02 15:40", "122.00", "\u00b10.47", "field calibrator",
                   "in force"});
    ReferenceWindow tall(referenceState("table"), 1100, 1000);
    checkShows(tall, {"set aside: gain moved"});
}

TEST_CASE("the budget is told as a table with how each term was obtained, its degrees of freedom and k")
{
    ReferenceWindow w("judged");
    checkShows(w, {"how it was obtained", "fit of 2026-05-03", "set by you", "assumed", "scatter of the tone", "\u221e",
                   "rectangular", "combined", "U = k u with k = 2.0"});
    CHECK(degreesText(2.0) == "2");
    CHECK(degreesText(4.23) == "4.2");
    CHECK(degreesText(infiniteDegrees) == "\u221e");
}

TEST_CASE("what an uncertainty lacks, what cannot be known and what was not kept are said")
{
    ReferenceWindow missing("missing"), idle("idle"), all("everything");
    CHECK_THAT(allOf(missing), Catch::Contains("uncertainty of the coupler's correction is not stated"));
    CHECK_THAT(allOf(idle), Catch::Contains("cannot be seen by software"));
    CHECK_THAT(allOf(all), Catch::Contains("Kept in this session, but not in the library"));
    all.page().openSheet(ReferenceSheet::What::remarks);
    CHECK_THAT(allOf(all), Catch::Contains("The sample rate was 96000 Hz at the reference"));
    CHECK_THAT(allOf(all), Catch::Contains("The calibrator's certificate was due on 2025-01-31"));
}

TEST_CASE("where there is no coupler and no calibrator the page says what to do")
{
    CHECK_THAT(allOf(*std::make_unique<ReferenceWindow>("nothing")), Catch::Contains("No coupler is chosen"));
    CHECK_THAT(allOf(*std::make_unique<ReferenceWindow>("no-calibrator")),
               Catch::Contains("The library has no calibrator"));
    CHECK_THAT(allOf(*std::make_unique<ReferenceWindow>("pressure-missing")), Catch::Contains("static pressure"));
    CHECK_THAT(allOf(*std::make_unique<ReferenceWindow>("pressure-missing")), Catch::Contains("not stated"));
}
