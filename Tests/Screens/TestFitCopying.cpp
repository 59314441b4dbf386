// SPDX-License-Identifier: GPL-3.0-or-later
#include "FitWindow.h"

#include "Screens/CopiedNumbers.h"

#include <functional>

using namespace couplet;
using Window = couplet::tests::FitWindow;
using couplet::tests::Asked;
using couplet::tests::Key;

namespace {

std::vector<std::string> textsOf(const std::vector<DrawnNumber>& numbers)
{
    std::vector<std::string> texts;
    for (const auto& number : numbers)
        texts.push_back(number.text);
    return texts;
}

Picture pictureOf(const std::string& text)
{
    const juce::SharedResourcePointer<Fonts> fonts;
    Pen pen(*fonts);
    pen.left(text, 10.0f, 20.0f, 900.0f, {14.0f});
    return pen.picture;
}

} // namespace

TEST_CASE("numbers are found in a text, and words that hold digits are none")
{
    const juce::SharedResourcePointer<Fonts> fonts;
    CHECK(
        textsOf(numbersIn(pictureOf("Take 1.36 dB off: its 114.02 dB (0.95 to 1.86), ±0.45, −0.31 and 2nd P4 1.2.3 x."),
                          *fonts)) == Asked{"1.36", "114.02", "0.95", "1.86", "0.45", "−0.31"});
    CHECK(numbersIn(pictureOf("no number"), *fonts).empty());
    CHECK(copiedText("−0.31") == "-0.31");
}

TEST_CASE("a number is found under the pointer, and beside it the nearest of its text")
{
    const juce::SharedResourcePointer<Fonts> fonts;
    const auto picture = pictureOf("between 0.95 and 1.86 dB");
    const auto numbers = numbersIn(picture, *fonts);
    for (const auto& number : numbers)
        CHECK(numberAt(picture, number.area.getCentre(), *fonts) == number);
    CHECK(numberAt(picture, {12.0f, 16.0f}, *fonts) == numbers[0]);
    CHECK_FALSE(numberAt(picture, {12.0f, 60.0f}, *fonts));
}

TEST_CASE("a right click on any cell of the table copies its number and says so")
{
    Window w(sketchedFit());
    const auto columns = FitColumns::within(w.table().rowWidth(), {});
    const std::pair<float, const char*> cells[] = {{columns.count, "4"},
                                                   {columns.mean, "114.71"},
                                                   {columns.scatter, "0.05"},
                                                   {columns.says, "1.40"},
                                                   {columns.without, "1.62"}};
    for (const auto& [right, number] : cells) {
        w.clickRow(3, right - 3.0f, true);
        CHECK(w.copied == number);
        CHECK(w.shows(std::string("copied ") + number));
    }
    w.clickRow(5, columns.scatter - 3.0f, true); // rated ±0.8
    CHECK(w.copied == "0.8");
    CHECK(w.fit.asked.empty());
}

TEST_CASE("a click on the triangle opens a group and closes it")
{
    Window w(sketchedFit());
    w.clickRow(3, 7.0f, false);
    CHECK(w.shows("reading 4"));
    w.clickRow(3, 7.0f, false);
    CHECK_FALSE(w.shows("reading 4"));
    w.clickRow(3, 60.0f, false);
    CHECK_FALSE(w.shows("reading 4"));
}

TEST_CASE("a row's numbers are gone through and copied by keyboard, and the whole row without one chosen")
{
    Window w(sketchedFit());
    w.table().select({FitRow::What::fitting, {FitKind::fitting, 3}, 0});
    CHECK(Window::command(w.table(), 'C'));
    CHECK(w.copied == "4\t114.71\t0.05\t1.40\t1.62");
    CHECK(w.shows("copied the row"));
    for (int i = 0; i < 4; ++i)
        Window::key(w.table(), Key::rightKey);
    CHECK(Window::command(w.table(), 'C'));
    CHECK(w.copied == "1.40");
    for (int i = 0; i < 9; ++i)
        Window::key(w.table(), Key::rightKey);
    Window::command(w.table(), 'C');
    CHECK(w.copied == "1.62");
    for (int i = 0; i < 9; ++i)
        Window::key(w.table(), Key::leftKey);
    Window::command(w.table(), 'C');
    CHECK(w.copied == "4\t114.71\t0.05\t1.40\t1.62");
}

TEST_CASE("a right click on the result's words copies the number there")
{
    Window w(sketchedFit());
    auto& words = w.page().result.words;
    const juce::SharedResourcePointer<Fonts> fonts;
    const auto numbers = numbersIn(words.picture(), *fonts);
    REQUIRE(numbers.size() == 8); // 1.44, 114.02, 112.58, 0.95, 2.05, 95 %, 0.45 and 0.20
    for (const auto& number : numbers) {
        Window::click(words, number.area.getCentre(), true);
        CHECK(w.copied == juce::String::fromUTF8(copiedText(number.text).c_str()));
    }
    w.copied = "before";
    Window::click(words, numbers[0].area.getCentre(), false);
    CHECK(w.copied == "before");
    CHECK(Window::key(words, Key::rightKey));
    CHECK(Window::command(words, 'C'));
    CHECK(w.copied == "114.02");
    auto& stored = w.page().result.stored;
    CHECK(Window::command(stored, 'C'));
    CHECK(w.copied == "1.21");
}

TEST_CASE("the plot tells what is pointed at in figures, and copies the nearest")
{
    Window w(sketchedFit());
    auto& panel = w.page().evidence;
    const auto items = evidenceItems(w.shown);
    const juce::Point<float> size(static_cast<float>(panel.getWidth()), static_cast<float>(panel.getHeight()));
    const auto plot = EvidencePlot::within(items, *w.shown.fit, size, {});
    Window::click(panel, {plot.x(items[0].says_dB), plot.y(0)}, true);
    CHECK(w.copied == "3.31");
    CHECK(w.shows("3.31, from 2.86 to 3.76, without it 1.48 dB"));
    Window::click(panel, {plot.x(items[0].range->low_dB), plot.y(0)}, true);
    CHECK(w.copied == "2.86");
    Window::click(panel, {plot.x(1.44), plot.base - 3.0f}, true);
    CHECK(w.copied == "1.44");
    CHECK(w.shows("1.44, from 0.95 to 2.05 dB"));
    panel.mouseExit(Window::event(panel, {}, {}));
    CHECK(w.shows("What each piece of evidence says"));
}

TEST_CASE("the plot's figures are gone through and copied by keyboard")
{
    Window w(sketchedFit());
    auto& panel = w.page().evidence;
    CHECK(Window::key(panel, Key::downKey));
    CHECK(Window::key(panel, Key::downKey));
    CHECK(Window::command(panel, 'C'));
    CHECK(w.copied == "2.21");
    for (int i = 0; i < 9; ++i)
        Window::key(panel, Key::rightKey);
    Window::command(panel, 'C');
    CHECK(w.copied == "1.43");
    for (int i = 0; i < 20; ++i)
        Window::key(panel, Key::downKey);
    Window::command(panel, 'C');
    CHECK(w.copied == "1.44");
    Window none(fitNamed("fit-empty"));
    CHECK_FALSE(Window::key(none.page().evidence, Key::downKey));
}

TEST_CASE("the answer to a copy goes after a while")
{
    CHECK(FitPage::answerStays_ms <= 5000);
    Window w(sketchedFit());
    w.clickRow(3, 60.0f, true); // on the name: there is no number
    CHECK(w.copied.isEmpty());
    CHECK_FALSE(w.shows("copied"));
}
