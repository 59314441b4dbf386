// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("the current reference is the newest that is fit and not set aside")
{
    Coupler coupler;
    CHECK(coupler.current() == nullptr);
    for (const double offset_dB : {1.0, 2.0, 3.0, 4.0})
        coupler.references.push_back(referenceAt("2026-05-03T12:00:00Z", offset_dB));
    CHECK(coupler.current()->offset_dB == 4.0);
    coupler.references[3].fitToUse = false;
    coupler.references[2].setAside = "a knock";
    CHECK(coupler.current()->offset_dB == 2.0);
    for (auto& reference : coupler.references)
        reference.fitToUse = false;
    CHECK(coupler.current() == nullptr);
}

TEST_CASE("a reference's age counts across days, months, leap years and zones")
{
    const auto age = [](const char* taken, const char* now) { return ageOf_s(referenceAt(taken, 0.0), now); };
    CHECK(age("2026-05-03T12:04:11Z", "2026-05-03T12:04:11Z") == 0.0);
    CHECK(age("2026-05-03T12:04:11Z", "2026-05-04T12:04:12Z") == 86401.0);
    CHECK(age("2028-02-28T23:59:59Z", "2028-03-01T00:00:00Z") == 86401.0);
    CHECK(age("2026-12-31T23:59:59Z", "2027-01-01T00:00:00Z") == 1.0);
    CHECK(age("2026-05-03T14:04:11+02:00", "2026-05-03T12:04:11.25Z") == 0.25);
    CHECK(age("2026-05-03T02:04:11-05:30", "2026-05-03T07:34:11Z") == 0.0);
    CHECK(age("2026-05-03T12:00:00Z", "2026-05-03T11:59:59Z") == -1.0);
}

TEST_CASE("a reference is stale beyond its coupler's time, and when a clock was put back behind it")
{
    Coupler coupler;
    coupler.allowedAge_h = 24.0;
    const auto reference = referenceAt("2026-05-03T12:00:00Z", 121.97);
    CHECK_FALSE(isStale(reference, coupler, "2026-05-04T11:59:00Z"));
    CHECK(isStale(reference, coupler, "2026-05-04T12:01:00Z"));
    CHECK_FALSE(isStale(reference, coupler, "2026-05-03T11:59:30Z")); // two computers' clocks
    CHECK(isStale(reference, coupler, "2026-05-03T11:00:00Z"));
    CHECK(isStale(reference, coupler, "2020-01-01T00:00:00Z"));
}

TEST_CASE("a text that is no time has no age")
{
    for (const auto* text :
         {"", "today", "2026-05-03", "2026-05-03T12:04:11", "2026-02-29T12:00:00Z", "2026-13-01T12:00:00Z",
          "2026-05-03T24:00:00Z", "2026-05-03T12:04:11Z ", "2026-05-03 12:04:11Z", "2026-05-03T12:04:11.Z"}) {
        INFO(text);
        CHECK_FALSE(ageOf_s(referenceAt(text, 0.0), "2026-05-03T12:04:11Z"));
        CHECK_FALSE(ageOf_s(referenceAt("2026-05-03T12:04:11Z", 0.0), text));
    }
}

TEST_CASE("the time now is kept in a form that has an age")
{
    const auto now = timeNow();
    CHECK(now.size() == std::string("2026-05-03T12:04:11Z").size());
    CHECK(ageOf_s(referenceAt("2020-01-01T00:00:00Z", 0.0), now).value() > 0.0);
    CHECK(std::abs(ageOf_s(referenceAt(now, 0.0), timeNow()).value()) <= 1.0);
}

TEST_CASE("a response is interpolated in the logarithm of frequency and never beyond its table")
{
    const std::vector<ResponsePoint> table = {{Hertz{100.0}, 0.0}, {Hertz{1000.0}, 1.0}, {Hertz{10000.0}, -1.0}};
    CHECK(responseAt_dB(table, Hertz{100.0}) == 0.0);
    CHECK(responseAt_dB(table, Hertz{1000.0}) == 1.0);
    CHECK(responseAt_dB(table, Hertz{10000.0}) == -1.0);
    CHECK(responseAt_dB(table, Hertz{std::sqrt(100.0 * 1000.0)}).value() == Approx(0.5).margin(1e-12));
    CHECK(responseAt_dB(table, Hertz{std::pow(10.0, 3.25)}).value() == Approx(0.5).margin(1e-12));
    CHECK_FALSE(responseAt_dB(table, Hertz{99.999}));
    CHECK_FALSE(responseAt_dB(table, Hertz{10000.001}));
    CHECK_FALSE(responseAt_dB(table, Hertz{std::nan("")}));
    CHECK_FALSE(responseAt_dB({}, Hertz{1000.0}));
}

TEST_CASE("the certified tone nearest in octaves is taken")
{
    Calibrator calibrator;
    calibrator.tones = {{Hertz{250.0}, 1.0, {}}, {Hertz{1000.0}, 2.0, {}}};
    CHECK(calibrator.nearest(Hertz{251.0}).level_dB == 1.0);
    CHECK(calibrator.nearest(Hertz{490.0}).level_dB == 1.0);
    CHECK(calibrator.nearest(Hertz{510.0}).level_dB == 2.0); // 260 Hz from 250 and 490 Hz from 1000
    CHECK(calibrator.nearest(Hertz{16000.0}).level_dB == 2.0);
}
