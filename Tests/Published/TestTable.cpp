// SPDX-License-Identifier: GPL-3.0-or-later
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <cmath>

using couplet::published::table;

TEST_CASE("a published table is read with its source, its columns and its blanks")
{
    const auto limits = table("iec60942_2017_limits");
    CHECK(limits.source.starts_with("IEC 60942:2017"));
    CHECK(limits.rows.size() == 24);
    CHECK(limits.rows.front().text("nominal_hz") == "31.5..63");
    CHECK(limits.rows.front().isBlank("class2"));
    CHECK(limits.rows.front().number("class1") == 0.3);
    CHECK(std::isinf(table("gum_table_g2_student_t").rows.back().number("nu")));
}

TEST_CASE("a published table that is not there is no empty table")
{
    CHECK_THROWS(table("no such table"));
    CHECK_THROWS(table("iec60942_2017_limits").rows.front().number("class2"));
    CHECK_THROWS(table("iec60942_2017_limits").rows.front().text("class 2"));
}
