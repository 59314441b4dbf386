// SPDX-License-Identifier: GPL-3.0-or-later
#include "FitWindow.h"

using namespace couplet;
using Window = couplet::tests::FitWindow;
using couplet::tests::Asked;
using couplet::tests::Key;

namespace {

constexpr FitTarget bare{FitKind::fitting, 0}, silicone{FitKind::fitting, 3}, through{FitKind::through, 0};
constexpr FitTarget earphoneP{FitKind::earphone, 0}, earphoneQ{FitKind::earphone, 1};
const std::string tooLate = "The readings are others by now: leave, and begin again with what is there.";

struct Late
{
    Window w{sketchedFit()};
    FitView view = sketchedFit();

    Late()
    {
        view.target = silicone;
        show();
    }
    void show()
    {
        view.revision += 10;
        w.view.showFit(view);
        w.fit.asked.clear();
    }
    void changed(const std::function<void(FitView&)>& change)
    {
        change(view);
        show();
    }
    // What was typed stays, is written nowhere, and the form says why.
    bool refuses(const Asked& typed)
    {
        REQUIRE(w.form().isAsking());
        w.type(typed);
        CHECK(w.form().isAsking());
        CHECK(w.form().field(0).words() == typed.front());
        CHECK(w.shows(tooLate));
        return w.fit.asked.empty();
    }
    void correct(const FitTarget& target, std::size_t reading)
    {
        w.table().toggle(target);
        w.table().select({FitRow::What::reading, target, reading});
        w.fit.asked.clear();
        CHECK(Window::key(w.table(), Key::returnKey));
    }
    bool act(const char* action) { return w.page().readings.rowMenu().take(action); }
};

void withoutFirst(FitView& v)
{
    v.input.fittings.erase(v.input.fittings.begin());
}

void simulatedNow(FitView& v)
{
    v.simulated = !v.simulated;
}

} // namespace

TEST_CASE("a correction is not written into the group that came into another's place")
{
    Late t;
    t.changed(withoutFirst);
    const auto second = t.view.input.fittings[0].name;
    t.correct(bare, 1);
    t.changed([](FitView& v) { v.input.fittings.insert(v.input.fittings.begin(), sketchedFit().input.fittings[0]); });
    CHECK(t.refuses({"115.55"}));
    t.changed(withoutFirst); // as it was asked
    REQUIRE(t.view.input.fittings[0].name == second);
    t.w.form().take();
    CHECK(t.w.fit.asked == Asked{"change fitting 0 1 115.55"});
}

TEST_CASE("a correction is not written over a reading that has changed meanwhile")
{
    Late t;
    t.correct(silicone, 1);
    t.changed([](FitView& v) { v.input.fittings[3].readings.erase(v.input.fittings[3].readings.begin()); });
    CHECK(t.refuses({"115.55"}));
    t.w.form().leave();

    t.changed([](FitView& v) { v.input.earphones[1].insertions = {{93.0}, {93.5}, {94.0}}; });
    t.correct(earphoneQ, 1);
    t.changed([](FitView& v) { v.input.earphones[1].insertions[1].level_dB = 93.6; });
    CHECK(t.refuses({"93.7"}));
}

TEST_CASE("a typed reading joins only the group that it was asked for")
{
    Late t;
    t.w.page().readings.askReading();
    t.changed([](FitView& v) { v.input.fittings[3].readings.push_back({114.7, {}, {}, {}, {}}); });
    t.w.type({"114.15"}); // captured besides: it is the group it was
    CHECK(t.w.fit.asked == Asked{"reading fitting 3 114.15"});
    t.changed(withoutFirst);
    CHECK(t.refuses({"114.16"}));
}

TEST_CASE("readings typed for a new fitting join the one that the first of them makes, and no other")
{
    Late t;
    t.changed([](FitView& v) { v.target = {FitKind::fitting, v.input.fittings.size()}; });
    const auto made = [&](const char* name) {
        t.changed([&](FitView& v) { v.input.fittings.push_back({name, {{115.1, {}, {}, {}, {}}}}); });
    };
    t.w.page().readings.askReading();
    t.w.type({"115.1"});
    t.w.type({"115.2"}); // before it is shown
    CHECK(t.w.fit.asked == Asked{"reading fitting 4 115.1", "reading fitting 4 115.2"});
    made("fitting 5");
    t.w.type({"115.3"});
    CHECK(t.w.fit.asked == Asked{"reading fitting 4 115.3"});
    t.changed([](FitView& v) { v.input.fittings[4].name = "another"; });
    CHECK(t.refuses({"115.4"}));
    t.w.form().leave();

    t.changed([](FitView& v) { v.target = {FitKind::fitting, v.input.fittings.size()}; });
    t.w.page().readings.askReading();
    made("fitting 6"); // by somebody else
    CHECK(t.refuses({"115.5"}));
}

TEST_CASE("a reason and a name go to nobody else")
{
    Late t;
    t.w.table().toggle(silicone);
    t.w.table().select({FitRow::What::reading, silicone, 0});
    REQUIRE(t.act("set it aside, with a reason"));
    t.changed([](FitView& v) { v.input.fittings[3].readings[0].level_dB += 0.1; });
    CHECK(t.refuses({"the adapter slipped"}));
    t.w.form().leave();

    t.w.table().select({FitRow::What::earphone, earphoneP, 0});
    REQUIRE(t.act("set it aside, with a reason"));
    t.changed([](FitView& v) { std::swap(v.input.earphones[0], v.input.earphones[1]); });
    CHECK(t.refuses({"its tip was torn"}));
    t.w.form().leave();

    t.w.table().select({FitRow::What::fitting, silicone, 0});
    REQUIRE(t.act("rename it"));
    t.changed([](FitView& v) { std::swap(v.input.fittings[3], v.input.fittings[2]); });
    CHECK(t.refuses({"soft collar"}));
}

TEST_CASE("what was asked for on one bench is written nowhere on the other")
{
    Late t;
    auto& readings = t.w.page().readings;
    const auto staysOut = [&](const Asked& typed) {
        t.changed(simulatedNow);
        CHECK(t.refuses(typed));
        t.changed(simulatedNow);
        t.w.form().take(); // back where it was asked
        CHECK(t.w.fit.asked.size() == 1);
        t.w.form().leave();
    };
    readings.askReading();
    staysOut({"114.15"});
    readings.askUncertainties();
    staysOut({"0.2", "0.1"});
    REQUIRE(readings.addMenu().take("a fitting"));
    staysOut({"soft collar"});
    REQUIRE(readings.addMenu().take("an earphone, typed"));
    staysOut({"earphone T", "95.1", "93.5", "1", "0.24"});
    t.changed([](FitView& v) { v.target = through; });
    readings.askReading();
    staysOut({"113.3"});
    t.correct(through, 0);
    staysOut({"99.90"});
    t.w.table().select({FitRow::What::fitting, silicone, 0});
    REQUIRE(t.act("rename it"));
    staysOut({"soft collar"});

    t.w.table().select({FitRow::What::earphone, earphoneP, 0});
    REQUIRE(t.act("correct it"));
    t.changed(simulatedNow);
    t.w.form().take();
    CHECK(t.w.shows("changed or read meanwhile"));
    CHECK(t.w.fit.asked.empty());
}

TEST_CASE("what another level does to insertions stands below the fields, until something is refused")
{
    Late t;
    const auto asksOfP = [&](std::vector<FitInsertion> insertions) {
        t.w.form().leave();
        t.changed([&](FitView& v) { v.input.earphones[0].insertions = std::move(insertions); });
        t.w.table().select({FitRow::What::earphone, earphoneP, 0});
        REQUIRE(t.act("correct it"));
        CHECK(t.w.shows("Correct earphone P"));
    };
    asksOfP({});
    CHECK_FALSE(t.w.shows("replaces"));
    asksOfP({{96.1}});
    CHECK(t.w.shows("Another level or expected level replaces its insertion."));
    asksOfP({{96.1, "torn", {}, false}, {96.2, "torn", {}, false}});
    CHECK(t.w.shows("Its level replaces its 2 insertions."));
    t.w.type({"earphone P", "loud", "94.6", "0.8", "0.24"});
    CHECK(t.w.shows("'loud' is no level"));
    CHECK_FALSE(t.w.shows("replaces"));
}

TEST_CASE("a long refusal of a form is read to its end in the smallest window")
{
    Window w(NamedFit{"", sketchedFit()}, smallestWidth, smallestHeight);
    w.fit.refusal = "These readings are of 'Ear simulator, right bench', and 'Ear simulator, left bench' is chosen: "
                    "choose the coupler that they are of, or clear all readings to begin anew.";
    w.page().readings.askReading();
    w.type({"114.66"});
    CHECK(w.shows("begin anew."));
}
