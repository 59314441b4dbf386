// SPDX-License-Identifier: GPL-3.0-or-later
#include "Metrology/Repeats.h"
#include "Published/Table.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;

namespace {

std::vector<double> column(const std::string& table, const std::string& name)
{
    std::vector<double> values;
    for (const auto& row : published::table(table).rows)
        values.push_back(row.number(name));
    return values;
}

} // namespace

TEST_CASE("twenty temperatures have the published mean and scatter")
{
    // JCGM 100:2008 4.4.3: mean 100.145, s 1.489, s of the mean 0.333 (data from memory, see the table's
    // first line).
    const auto temperatures = column("gum_4_4_3_temperature", "t_C");
    const auto repeats = repeatsOf(temperatures);
    REQUIRE(repeats);
    CHECK(repeats->mean == Approx(100.145).margin(5e-4).epsilon(0.0));
    CHECK(repeats->deviation == Approx(1.489).margin(5e-4).epsilon(0.0));
    const auto term = fromRepeats("temperature", temperatures, "20 readings");
    REQUIRE(term);
    CHECK(term->u_dB == Approx(0.333).margin(5e-4).epsilon(0.0));
    CHECK(term->degreesOfFreedom == 19.0);
    CHECK(term->shape == Shape::normal);
}

TEST_CASE("mean and scatter keep NIST's certified digits")
{
    // NIST Statistical Reference Datasets, univariate summary statistics.
    for (const auto& row : published::table("nist_strd_univariate_certified").rows) {
        const auto name = row.text("dataset");
        if (name != "Mavro" && name != "Michelso" && name != "NumAcc1")
            continue;
        CAPTURE(name);
        const auto file = name == "Mavro"      ? "nist_mavro_data"
                          : name == "Michelso" ? "nist_michelso_data"
                                               : "nist_numacc1_data";
        const auto repeats = repeatsOf(column(file, "x"));
        REQUIRE(repeats);
        CHECK(static_cast<double>(repeats->count) == row.number("n"));
        CHECK(repeats->mean == Approx(row.number("mean")).epsilon(1e-14));
        CHECK(repeats->deviation == Approx(row.number("stdev")).epsilon(1e-12));
    }
}

TEST_CASE("one reading has no scatter, and none has no mean")
{
    CHECK_FALSE(repeatsOf({}));
    CHECK_FALSE(repeatsOf({94.0}));
    CHECK_FALSE(fromRepeats("insertion", {94.0}, "1 insertion"));
}
