// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/ItemSearch.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

using namespace couplet;
using namespace couplet::tests;

namespace {

Coupler coupler(const std::string& name, int slot = 0, const std::string& serial = "")
{
    Coupler made;
    made.name = name;
    made.slot = slot;
    made.serial = serial;
    return made;
}

std::vector<std::string> namesOf(std::string_view query, const std::vector<Item>& items)
{
    std::vector<std::string> names;
    for (const auto place : search(query, items))
        names.push_back(nameOf(items.at(place)));
    return names;
}

using Names = std::vector<std::string>;

} // namespace

TEST_CASE("words are found in any order, and each of them must be there")
{
    const std::vector<Item> items = {coupler("left bench"), coupler("bench, right"), coupler("window")};
    CHECK(namesOf("bench left", items) == Names{"left bench"});
    CHECK(namesOf("be ri", items) == Names{"bench, right"});
    CHECK(namesOf("bench window", items).empty());
    CHECK(namesOf("", items).size() == 3);
    CHECK(namesOf(" , ", items).size() == 3);
}

TEST_CASE("a whole word comes before a word's beginning, and that before a part")
{
    const std::vector<Item> items = {coupler("workbench"), coupler("benchmark"), coupler("the bench"),
                                     coupler("bench")};
    CHECK(namesOf("bench", items) == Names{"bench", "benchmark", "the bench", "workbench"});
    CHECK(namesOf("the", items) == Names{"the bench"});
}

TEST_CASE("neither case nor Latin accents matter, and any script is found")
{
    const std::vector<Item> items = {coupler("Prüfstand Größe"), coupler("Ørsted, mètre étalon"),
                                     coupler("Việt e\xCC\x81tage"), coupler("試験台 左"), coupler("ЁМКОСТЬ Ωμέγα")};
    CHECK(namesOf("prufstand grosse", items) == Names{"Prüfstand Größe"});
    CHECK(namesOf("PRÜFSTAND GRÖSSE", items) == Names{"Prüfstand Größe"});
    CHECK(namesOf("orsted ETALON", items) == Names{"Ørsted, mètre étalon"});
    CHECK(namesOf("viet étage", items) == Names{"Việt e\xCC\x81tage"});
    CHECK(namesOf("験台", items) == Names{"試験台 左"});
    CHECK(namesOf("左", items) == Names{"試験台 左"});
    CHECK(namesOf("ёмк ωμέ", items) == Names{"ЁМКОСТЬ Ωμέγα"});
}

TEST_CASE("a slot is found by its number, alone or behind the word")
{
    const std::vector<Item> items = {coupler("a", 13), coupler("b", 3), coupler("c", 0, "3333"),
                                     coupler("d, slot 3 spare")};
    CHECK(namesOf("3", items).front() == "d, slot 3 spare"); // a word of its name
    CHECK(namesOf("3", items).at(1) == "b");
    CHECK(namesOf("slot 3", items) == Names{"d, slot 3 spare", "b"});
    CHECK(namesOf("Slot 13", items) == Names{"a"});
    CHECK(namesOf("slot 1", items).empty());
}

TEST_CASE("the kind, the serial, the microphone and the input are searched as well")
{
    const std::vector<Item> items = {fullCoupler("x"), fullCalibrator("y"), fullEarphone("z"), fullDriveSource("w")};
    CHECK(namesOf("ear simulator 60318-4", items) == Names{"x"});
    CHECK(namesOf("007", items) == Names{"x"});
    CHECK(namesOf("half-inch", items) == Names{"x"});
    CHECK(namesOf("interface 2", items) == Names{"x"});
    CHECK(namesOf("notch", items) == Names{"x"});
    CHECK(namesOf("calibrator", items) == Names{"y"});
    CHECK(namesOf("large tips", items) == Names{"z"});
}

TEST_CASE("a query that is no UTF-8 finds nothing wrong")
{
    const std::vector<Item> items = {coupler("bench")};
    CHECK(namesOf("\xFF\xC3", items).empty());
    CHECK(namesOf(std::string(100000, 'b'), items).empty());
}
