// SPDX-License-Identifier: GPL-3.0-or-later
#include "FitWindow.h"

using namespace couplet;
using Window = couplet::tests::FitWindow;
using couplet::tests::Asked;
using couplet::tests::Key;

namespace {

constexpr FitTarget phone{FitKind::earphone, 0}, typed{FitKind::earphone, 3};

FitRow insertion(std::size_t index)
{
    return {FitRow::What::reading, phone, index};
}

std::string spoken(const FitRow& row)
{
    return fitRowSpoken(fitNamed("fit-insertions").view, row);
}

} // namespace

TEST_CASE("an earphone's row shows how often it was put in, the mean and the scatter")
{
    const auto& view = fitNamed("fit-insertions").view;
    const auto texts = fitRowTexts(view, {FitRow::What::earphone, phone, 0});
    CHECK(texts.count == "6 of 7");
    CHECK(texts.mean == "96.22");
    CHECK(texts.scatter == "0.12");
    CHECK(texts.attention); // one is odd
    const auto single = fitRowTexts(view, {FitRow::What::earphone, {FitKind::earphone, 1}, 0});
    CHECK(single.count == "1");
    CHECK(single.scatter == "unknown");
    CHECK(single.note == "kept aside");
    const auto none = fitRowTexts(view, {FitRow::What::earphone, {FitKind::earphone, 2}, 0});
    CHECK(none.count == "0 of 2");
    CHECK(none.mean.empty());
    CHECK(none.says.empty());
    CHECK(none.note == "set aside");
    CHECK(none.aside);
    CHECK(fitRowTexts(view, {FitRow::What::rating, {FitKind::earphone, 2}, 0}).note ==
          "every insertion is set aside: it says nothing");
    const auto whole = fitRowTexts(view, {FitRow::What::earphone, typed, 0});
    CHECK(whole.count.empty());
    CHECK(whole.scatter == "rated ±1.0");
}

TEST_CASE("an earphone opens to what it is rated and to each of its insertions")
{
    Window w(fitNamed("fit-insertions"));
    for (const char* text : {"6 of 7", "expected", "94.60", "rated ±0.8, u 0.08", "insertion 1", "96.15", "insertion 2",
                             "96.19", "not seen lifted", "93.62", "set aside: the tip"})
        CHECK(w.shows(text));
    w.table().select(insertion(3));
    CHECK(w.shows("seated anew"));
    w.table().select(insertion(6));
    CHECK(w.shows("outlier, Grubbs' test"));
    w.table().select({FitRow::What::earphone, phone, 0});
    CHECK(Window::key(w.table(), Key::returnKey));
    CHECK_FALSE(w.shows("insertion 1"));
    CHECK(Window::key(w.table(), Key::returnKey));
    CHECK(w.shows("insertion 1"));
}

TEST_CASE("an insertion is set aside with a reason, put back, and its level corrected")
{
    Window w(fitNamed("fit-insertions"));
    w.table().select(insertion(6));
    CHECK(Window::key(w.table(), Key::deleteKey));
    CHECK(w.shows("Set insertion 7 of earphone P aside: why?"));
    w.type({""});
    CHECK(w.shows("set aside with a reason"));
    w.type({"the cable was pulled"});
    w.table().select(insertion(2));
    CHECK(Window::key(w.table(), Key::deleteKey));
    CHECK(w.page().readings.rowMenu().take("let it count again"));
    w.table().select(insertion(0));
    CHECK(w.page().readings.rowMenu().take("set it aside, with a reason"));
    w.type({"slipped"});
    CHECK(Window::key(w.table(), Key::returnKey));
    CHECK(w.shows("Correct insertion 1 of earphone P, dB"));
    CHECK(w.form().field(0).words() == "96.15");
    w.type({"96,14"});
    CHECK(w.fit.asked == Asked{"aside earphone 0 6 'the cable was pulled'", "aside earphone 0 2 ''",
                               "aside earphone 0 2 ''", "aside earphone 0 0 'slipped'", "change earphone 0 0 96.14"});
}

TEST_CASE("what became of an earphone is told in a word where there is no room for more, and in its opened row")
{
    auto view = fitNamed("fit-insertions").view;
    const FitRow row{FitRow::What::earphone, phone, 0}, rating{FitRow::What::rating, phone, 0};
    view.input.earphones[0].keptAside = true;
    const auto texts = fitRowTexts(view, row);
    CHECK(texts.note == "kept aside");
    CHECK(fitRowTexts(view, rating).note == "kept aside; rated ±0.8, u 0.08");
    const auto drawn = [&](float width, float ease) {
        const juce::SharedResourcePointer<Fonts> fonts;
        std::string all;
        for (const auto& text : fitRowPicture(texts, row, {}, {width, 23.0f}, {ease}, *fonts).texts)
            all += text.text + "|";
        return all;
    };
    CHECK_THAT(drawn(600.0f, 1.0f), Catch::Contains("kept aside|"));
    CHECK_THAT(drawn(370.0f, 0.0f), Catch::Contains("kept|") && Catch::Contains("6 of 7|"));
}

TEST_CASE(
    "an insertion read with another drive shows what was read and what was expected, and the mean is for one drive")
{
    auto view = fitNamed("fit-insertions").view;
    auto& e = view.input.earphones[0];
    const auto before = fitRowTexts(view, {FitRow::What::earphone, phone, 0});
    e.insertions[0].level_dB -= 6.0;
    *e.insertions[0].expected_dB -= 6.0;
    const auto now = fitRowTexts(view, {FitRow::What::earphone, phone, 0});
    CHECK(now.mean == before.mean);
    CHECK(now.scatter == before.scatter);
    CHECK(fitRowTexts(view, insertion(0)).mean == "90.15");
    CHECK_THAT(fitRowTexts(view, insertion(0)).note, Catch::StartsWith("expected 88.60"));
    CHECK_THAT(fitRowTexts(view, insertion(1)).note, !Catch::Contains("expected"));
}

TEST_CASE("what an earphone is rated is no reading: it is neither corrected nor set aside")
{
    Window w(fitNamed("fit-insertions"));
    w.table().select({FitRow::What::rating, phone, 0});
    REQUIRE(w.table().selectedRow() != nullptr);
    CHECK(w.table().selectedRow()->what == FitRow::What::rating);
    Window::key(w.table(), Key::returnKey);
    Window::key(w.table(), Key::deleteKey);
    CHECK_FALSE(w.form().isAsking());
    CHECK_FALSE(w.page().readings.rowMenu().take("correct its level"));
    CHECK(w.fit.asked.empty());
}

TEST_CASE("the whole earphone is set aside from its own row still")
{
    Window w(fitNamed("fit-insertions"));
    w.table().select({FitRow::What::earphone, phone, 0});
    CHECK(w.page().readings.rowMenu().take("set it aside, with a reason"));
    w.type({"its tip was torn"});
    CHECK(w.fit.asked == Asked{"aside earphone 0 'its tip was torn'"});
}

TEST_CASE("insertions are copied by a right click and told to those who listen")
{
    Window w(fitNamed("fit-insertions"));
    const auto columns = FitColumns::within(w.table().rowWidth(), {});
    const auto& rows = w.table().allRows();
    const auto place = [&](const FitRow& row) {
        return static_cast<std::size_t>(std::find(rows.begin(), rows.end(), row) - rows.begin());
    };
    w.clickRow(place(insertion(3)), columns.mean - 3.0f, true);
    CHECK(w.copied == "96.17");
    w.clickRow(place({FitRow::What::earphone, phone, 0}), columns.scatter - 3.0f, true);
    CHECK(w.copied == "0.12");
    CHECK_THAT(spoken({FitRow::What::earphone, phone, 0}),
               Catch::StartsWith("earphone P, insertions 6 of 7, mean dB 96.22, scatter 0.12, says 1.62"));
    CHECK(spoken({FitRow::What::rating, phone, 0}) == "expected, 94.60, rated ±0.8, u 0.08");
    CHECK_THAT(spoken(insertion(1)),
               Catch::StartsWith("insertion 2, after ") && Catch::EndsWith("min, 96.19, not seen lifted"));
    CHECK_THAT(spoken(insertion(2)), Catch::EndsWith("seated anew; set aside: the tip was not home in the coupler"));
    CHECK_THAT(spoken(insertion(6)), Catch::Contains("outlier: Grubbs'") && Catch::EndsWith("seated anew"));
    CHECK_THAT(spoken({FitRow::What::earphone, typed, 0}), Catch::Contains(", rated ±1.0, says "));
}

TEST_CASE("a capture counts the insertions that count")
{
    auto view = fitNamed("fit-insertions").view;
    CHECK(readingsOfTarget(view) == 6);
    view.target = {FitKind::earphone, 2};
    CHECK(readingsOfTarget(view) == 0);
    view.target = typed;
    CHECK(readingsOfTarget(view) == 1);
    view.input.earphones[3].setAside = notReadYet;
    CHECK(readingsOfTarget(view) == 0);
}
