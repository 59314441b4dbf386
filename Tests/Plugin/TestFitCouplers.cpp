// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/TwoBenches.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

constexpr FitTarget through{FitKind::through, 0};

const std::string asks = "These readings are of 'left bench', and 'right bench' is chosen: press again to keep the "
                         "correction in 'right bench' all the same.";

} // namespace

TEST_CASE("readings of one coupler give another its correction only when asked twice")
{
    TwoBenches t;
    t.fill(collarTable);
    CHECK(t.view().readOn.empty());
    t.choose(2);
    CHECK(t.view().readOn == "left bench");
    REQUIRE(t.view().canUse);
    t.processor.useCorrection();
    CHECK(t.view().notice == asks);
    CHECK_FALSE(t.ofSlot(2));
    t.processor.useCorrection();
    CHECK(t.view().notice.empty());
    REQUIRE(t.used());
    CHECK_THAT(t.view().used, Catch::StartsWith("'right bench' has a correction of 1."));
    CHECK(t.ofSlot(2));
    CHECK_FALSE(t.ofSlot(1));
    t.processor.useCorrection();
    CHECK(t.view().notice == asks); // each time
    t.processor.undoFit();
    REQUIRE(t.wait([](const FitView& v) { return v.used.ends_with("again."); }));
    CHECK_FALSE(t.ofSlot(2));
    CHECK(t.view().readOn == "left bench");
}

TEST_CASE("what happens between the two presses has the question asked anew")
{
    TwoBenches t;
    t.fill(collarTable);
    t.choose(2);
    t.processor.useCorrection();
    t.processor.setFitReadingAside(through, 0, "the cable was pulled");
    CHECK(t.view().readOn == "left bench");
    REQUIRE(t.fitted());
    t.processor.useCorrection();
    CHECK(t.view().notice == asks);
    t.choose(1);
    CHECK(t.view().notice.empty());
    t.choose(2);
    t.processor.useCorrection();
    CHECK(t.view().notice == asks);
    CHECK_FALSE(t.ofSlot(2));
    t.choose(1);
    t.processor.useCorrection(); // their own: nothing to ask
    CHECK(t.view().notice.empty());
    REQUIRE(t.used());
    CHECK(t.ofSlot(1));
}

TEST_CASE("an empty sheet forgets its coupler, a table is of the one that is chosen, and undo brings both back")
{
    TwoBenches t;
    t.fill(collarTable);
    t.choose(2);
    t.processor.clearFit();
    CHECK(t.view().readOn.empty());
    t.processor.addFitReading(through, 113.3);
    CHECK(t.view().readOn.empty());
    t.choose(1);
    CHECK(t.view().readOn == "right bench");
    t.fill(collarTable);
    CHECK(t.view().readOn.empty());
    t.processor.undoFit();
    CHECK(t.view().readOn == "right bench");
    t.processor.undoFit();
    t.processor.undoFit();
    CHECK(t.view().readOn.empty());
    t.choose(2);
    CHECK(t.view().readOn == "left bench");
    t.processor.removeFitting(0); // those through the coupler are left
    CHECK(t.view().readOn == "left bench");
}

TEST_CASE("an earphone that waits to be read makes no sheet a coupler's, and one that was typed does")
{
    TwoBenches t;
    t.processor.addFitEarphone("earphone P");
    t.choose(2);
    CHECK(t.view().readOn.empty());
    t.processor.addFitEarphone(FitEarphone{"E", 95.2, 94.0, 1.0, 0.12, false, {}, {}});
    t.choose(1);
    CHECK(t.view().readOn == "right bench");
}

TEST_CASE("a session keeps whose readings they are, and one from before knows it of none")
{
    TwoBenches t;
    t.fill(collarTable);
    t.choose(2);
    auto saved = t.state();
    TwoBenches other;
    other.restore(saved);
    CHECK(other.view().readOn == "left bench");
    CHECK(other.state() == saved);

    const std::string field = "\"coupler\": \"left bench\"";
    REQUIRE(saved.find(field) != std::string::npos);
    const auto comma = saved.rfind(',', saved.find(field));
    saved.erase(comma, saved.find(field) + field.size() - comma);
    other.restore(saved);
    CHECK(other.view().input.fittings.size() == 1);
    CHECK(other.view().readOn.empty());
    CHECK(other.state() == saved);
    CHECK(other.processor.addFitReading(through, 113.3).empty()); // nobody knows of the others
    other.choose(1);
    CHECK(other.view().readOn.empty());
    REQUIRE(other.fitted());
    other.processor.useCorrection();
    CHECK(other.view().notice == "It is not known of which coupler these readings are: press again to keep the "
                                 "correction in 'left bench'.");
    CHECK_FALSE(other.ofSlot(1));
    other.processor.useCorrection();
    REQUIRE(other.used());
    CHECK(other.ofSlot(1));
}

TEST_CASE("readings made before a coupler was chosen are of none that is known")
{
    TwoBenches t;
    t.choose(0);
    t.fill(collarTable);
    t.choose(1);
    CHECK(t.processor.addFitReading(through, 113.31).empty()); // it knows of itself alone
    t.choose(2);
    CHECK(t.view().readOn.empty());
    REQUIRE(t.fitted());
    t.processor.useCorrection();
    CHECK_THAT(t.view().notice, Catch::StartsWith("It is not known of which coupler these readings are"));
    CHECK_FALSE(t.ofSlot(2));
    t.processor.useCorrection();
    REQUIRE(t.used());
    CHECK(t.ofSlot(2));
}

TEST_CASE("what was asked of one session's readings is not answered for another's")
{
    TwoBenches t;
    t.fill(collarTable);
    t.choose(2);
    auto other = t.state();
    const auto place = other.find("114.65");
    REQUIRE(place != std::string::npos);
    other.replace(place, 6, "114.66");
    t.processor.useCorrection();
    REQUIRE(t.view().notice == asks);
    t.restore(other);
    CHECK(t.view().notice.empty());
    REQUIRE(t.fitted());
    t.processor.useCorrection();
    CHECK(t.view().notice == asks);
    CHECK_FALSE(t.ofSlot(2));
    t.processor.useCorrection();
    REQUIRE(t.used());
    const auto used = t.view().used;
    REQUIRE_FALSE(used.empty());
    other.replace(place, 6, "114.67");
    t.restore(other);
    CHECK(t.view().used.empty());
}
