// SPDX-License-Identifier: GPL-3.0-or-later
#include "FitWindow.h"

#include "Screens/FitTyped.h"

using namespace couplet;
using Window = couplet::tests::FitWindow;
using couplet::tests::Asked;
using couplet::tests::Key;

namespace {

constexpr FitTarget silicone{FitKind::fitting, 3}, through{FitKind::through, 0};
constexpr FitTarget earphoneP{FitKind::earphone, 0}, earphoneQ{FitKind::earphone, 1};
const double third = 1.0 / 3.0;

FitView withUnread(std::optional<FitPromise> promise)
{
    auto view = sketchedFit();
    view.input.earphones[1].setAside = notReadYet;
    view.input.earphones[1].level_dB = view.input.earphones[1].expected_dB = 116.0 + third;
    view.input.earphones[1].u_dB.reset();
    view.promises.resize(view.input.earphones.size());
    view.promises[1] = std::move(promise);
    view.target = earphoneQ;
    ++view.revision;
    return view;
}

Asked fieldsOf(Window& w)
{
    Asked words;
    for (std::size_t i = 0; i < w.form().fieldCount(); ++i)
        words.push_back(w.form().field(i).words());
    return words;
}

} // namespace

TEST_CASE("a number is printed with two to four decimals, and what was left as printed is the number it was")
{
    const std::pair<double, const char*> numbers[] = {{114.65, "114.65"},       {114.0, "114.00"},
                                                      {114.123456, "114.1235"}, {-9.3125, "-9.3125"},
                                                      {-0.00001, "0.00"},       {0.0755, "0.0755"}};
    for (const auto& [number, text] : numbers) {
        const PrintedNumber printed(number);
        CHECK(printed.text == text);
        CHECK(*typedLevel(" " + printed.text + " ", printed) == number);
        CHECK(*typedLevel("114.66", printed) == 114.66);
    }
    CHECK(PrintedNumber(std::optional<double>()).text.empty());
    CHECK_FALSE(PrintedNumber().isLeft(""));
    CHECK(*typedSpread("0.3333", PrintedNumber(third), "U", 3.0) == third);
    CHECK_FALSE(typedSpread("", PrintedNumber(third), "U", 3.0)->has_value());
}

TEST_CASE("a reading whose text is left as it was is not asked to change")
{
    auto view = sketchedFit();
    view.input.fittings[3].readings[0].level_dB = 114.654321;
    view.input.through.readings[0].level_dB = 113.25 + third;
    Window w(view);
    w.table().toggle(silicone);
    w.table().toggle(through);
    w.table().select({FitRow::What::reading, silicone, 0});
    CHECK(Window::key(w.table(), Key::returnKey));
    CHECK(w.form().field(0).words() == "114.6543");
    w.form().take();
    CHECK_FALSE(w.form().isAsking());
    w.table().select({FitRow::What::reading, through, 0});
    CHECK(Window::key(w.table(), Key::returnKey));
    CHECK(w.form().field(0).words() == "113.5833");
    w.form().take();
    CHECK(w.fit.asked.empty());
    CHECK(Window::key(w.table(), Key::returnKey));
    w.type({"113.58"});
    CHECK(w.fit.asked == Asked{"change through 0 113.58"});
}

TEST_CASE("uncertainties that are left as they were stay what they are")
{
    auto view = sketchedFit();
    view.input.settings.u_transfer_dB = third;
    Window w(view);
    w.page().readings.askUncertainties();
    w.type({w.form().field(0).words(), "0.2"});
    CHECK(w.fit.asked == Asked{"uncertainties 0.333333 0.2"});
}

TEST_CASE("an earphone is corrected whole, and what is left as it was stays what it is")
{
    auto view = sketchedFit();
    auto& before = view.input.earphones[1];
    before.level_dB = 93.0 + third;
    before.expected_dB = 92.0 + third;
    before.tolerance_dB = third;
    before.u_dB = third;
    before.insertions = {{93.0}, {93.0 + third}, {94.0}};
    Window w(view);
    w.table().toggle(earphoneQ);
    w.table().select({FitRow::What::reading, earphoneQ, 1});
    CHECK(Window::key(w.table(), Key::returnKey)); // one of them
    CHECK(fieldsOf(w) == Asked{"93.3333"});
    w.form().take();
    CHECK(w.fit.asked.empty());
    w.table().select({FitRow::What::earphone, earphoneQ, 0});
    CHECK(w.page().readings.rowMenu().take("correct it"));
    CHECK(w.shows("Correct earphone Q"));
    CHECK(w.shows("Another level or expected level replaces its 3 insertions."));
    CHECK(fieldsOf(w) == Asked{"earphone Q", "93.3333", "92.3333", "0.3333", "0.6667"});
    w.form().take();
    CHECK(w.fit.typed.name == "earphone Q");
    CHECK(w.fit.typed.level_dB == before.level_dB);
    CHECK(w.fit.typed.expected_dB == before.expected_dB);
    CHECK(w.fit.typed.tolerance_dB == before.tolerance_dB);
    CHECK(w.fit.typed.u_dB == before.u_dB);
    CHECK_FALSE(w.form().isAsking());

    w.table().select({FitRow::What::earphone, earphoneQ, 0});
    CHECK(w.page().readings.rowMenu().take("correct it"));
    w.type({" earphone Q left ", "93,60", "92.5", "", "0.3"});
    CHECK(w.fit.typed.name == "earphone Q left");
    CHECK(w.fit.typed.level_dB == 93.60);
    CHECK(w.fit.typed.expected_dB == 92.5);
    CHECK_FALSE(w.fit.typed.tolerance_dB);
    CHECK(w.fit.typed.u_dB == 0.15);
    CHECK(w.fit.asked == Asked{"change earphone 1", "change earphone 1"});
}

TEST_CASE("an earphone that was not read is typed for the drive on the bench, and the form says which")
{
    Window w(withUnread(FitPromise{92.0 + third, "62.4 mV"}));
    CHECK(w.view.keyPressed(Key('R')));
    CHECK(w.shows("Level at 62.4 mV of earphone Q"));
    CHECK(fieldsOf(w) == Asked{"earphone Q", "", "92.3333", "1.00", ""});
    w.form().take();
    CHECK(w.shows("is no level")); // none was read yet
    CHECK(w.fit.asked.empty());
    w.type({"earphone Q", "93.62", "92.3333", "1.00", "0.24"});
    CHECK(w.fit.asked == Asked{"change earphone 1"});
    CHECK(w.fit.typed.level_dB == 93.62);
    CHECK(w.fit.typed.expected_dB == 92.0 + third);
    CHECK(w.fit.typed.u_dB == 0.12);
}

TEST_CASE("an earphone that was not read is typed for 1 V where no drive is known")
{
    Window w(withUnread({}));
    w.table().select({FitRow::What::earphone, earphoneQ, 0});
    CHECK(w.page().readings.rowMenu().take("type its level"));
    CHECK(w.shows("Level at 1 V of earphone Q"));
    CHECK(fieldsOf(w) == Asked{"earphone Q", "", "116.3333", "1.00", ""});
    CHECK_FALSE(w.page().readings.rowMenu().take("let it count again"));
    w.type({"earphone Q", "117.5", "116.3333", "1.00", ""});
    CHECK(w.fit.typed.expected_dB == 116.0 + third);
}

TEST_CASE("an earphone that was read while its form stood open is not written over")
{
    Window w(sketchedFit());
    w.table().select({FitRow::What::earphone, earphoneP, 0});
    CHECK(w.page().readings.rowMenu().take("correct it"));
    auto view = sketchedFit();
    view.input.earphones[0].level_dB += 0.01;
    view.target = earphoneP;
    view.revision += 10;
    w.view.showFit(view);
    w.fit.asked.clear();
    w.form().take();
    CHECK(w.shows("changed or read meanwhile"));
    CHECK(w.fit.asked.empty());
}

TEST_CASE("an earphone that is given another name stays open")
{
    Window w(sketchedFit());
    w.table().toggle(earphoneQ);
    w.table().select({FitRow::What::reading, earphoneQ, 0});
    CHECK(Window::key(w.table(), Key::returnKey));
    w.type({"earphone Z", "93.62", "92.40", "1.00", "0.24"});
    auto view = sketchedFit();
    view.input.earphones[1].name = "earphone Z";
    view = fitOf(view.input, view);
    view.revision += 10;
    w.view.showFit(view);
    CHECK(w.shows("expected 92.40 dB"));
}

TEST_CASE("whatever is typed and refused by the bench stays to be mended, with the refusal")
{
    Window w(fitNamed("fit-readings"));
    auto& readings = w.page().readings;
    const auto staysOpen = [&](const Asked& typed) {
        w.fit.refusal = "That cannot be taken: mend it.";
        w.fit.asked.clear();
        w.type(typed);
        CHECK(w.fit.asked.size() == 1);
        CHECK(w.form().isAsking());
        CHECK(w.shows("That cannot be taken: mend it."));
        CHECK(fieldsOf(w) == typed);
        w.fit.refusal.clear();
        w.form().take();
        CHECK(w.fit.asked.size() == 2);
        CHECK_FALSE(w.shows("That cannot be taken: mend it."));
    };
    CHECK(readings.addMenu().take("an earphone, typed"));
    staysOpen({"earphone T", "95.1", "93.5", "1", "0.24"});
    CHECK_FALSE(w.form().isAsking());
    w.table().select({FitRow::What::earphone, earphoneQ, 0});
    CHECK(readings.rowMenu().take("correct it"));
    staysOpen({"earphone P", "95.1", "93.5", "1", "0.24"});
    CHECK(readings.rowMenu().take("set it aside, with a reason"));
    staysOpen({"its tip was torn"});
    CHECK(readings.addMenu().take("a fitting"));
    staysOpen({"silicone collar"});
    w.table().select({FitRow::What::fitting, silicone, 0});
    CHECK(readings.rowMenu().take("rename it"));
    staysOpen({"soft collar"});
    w.table().select({FitRow::What::reading, silicone, 0});
    CHECK(readings.rowMenu().take("correct its level"));
    staysOpen({"114.66"});
    CHECK(readings.rowMenu().take("set it aside, with a reason"));
    staysOpen({"the cable was pulled"});
    readings.askUncertainties();
    staysOpen({"0.2", "0.1"});
    readings.askReading();
    staysOpen({"114.66"});
    CHECK(w.form().isAsking()); // for the next
    CHECK(w.form().field(0).words().empty());
}

TEST_CASE("a fitting whose new name is refused leaves no trace of it in the table")
{
    Window w(fitNamed("fit-readings"));
    w.table().select({FitRow::What::fitting, silicone, 0});
    w.page().readings.rowMenu().take("rename it");
    w.fit.refusal = "No.";
    w.type({"soft collar"});
    auto view = fitNamed("fit-readings").view;
    view.input.fittings[0].name = "soft collar"; // another one
    view.revision += 10;
    w.view.showFit(view);
    const auto& rows = w.table().allRows();
    REQUIRE(rows.size() > 1);
    CHECK(rows[1].what == FitRow::What::fitting); // the first is closed
}

TEST_CASE("readings of another coupler are said to be so, and why they cannot be used besides")
{
    auto view = sketchedFit();
    view.readOn = "Ear simulator, right bench";
    CHECK(fitSummary(view).note ==
          "These readings are of 'Ear simulator, right bench', and 'Ear simulator, left bench' "
          "is chosen.");
    CHECK(fitSummary(view).attention);
    Window w(view);
    CHECK(w.shows("These readings are of"));
    CHECK(w.press("Use 1.44 dB in this coupler"));
    CHECK(w.fit.asked == Asked{"use"});
    view.canUse = false;
    view.whyNotUse = "A reference is being taken.";
    CHECK_THAT(fitSummary(view).note, Catch::EndsWith("is chosen. A reference is being taken."));
    view.notice = "Press again.";
    CHECK(fitSummary(view).note == "Press again.");
}

TEST_CASE("what was pasted is told in the place of notices, without their mark")
{
    auto view = sketchedFit();
    view.used = "'left bench' has a correction of 1.44 dB now.";
    view.told = "12 readings were taken, into 'silicone collar'.";
    CHECK(fitSummary(view).note == view.told);
    CHECK_FALSE(fitSummary(view).attention);
}
