// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Shelf.h"
#include "Library/FolderVersions.h"
#include "Library/Json.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

using namespace couplet;
using namespace couplet::tests;

namespace {

Coupler withCorrection(Coupler coupler, double value_dB)
{
    coupler.correction->value_dB = value_dB;
    return coupler;
}

// "bench" with an overwritten correction and a slot that was taken away.
struct Changed : Shelf
{
    Changed()
    {
        auto coupler = withCorrection(fullCoupler("bench"), 1.44);
        coupler.slot = 3;
        REQUIRE(folder.save(coupler));
        coupler.correction->value_dB = 1.52;
        REQUIRE(folder.save(coupler));
        coupler.slot = 0;
        REQUIRE(folder.save(coupler));
    }
};

} // namespace

TEST_CASE("versions lists what was overwritten with number, time and change, and putback puts one back")
{
    const Changed shelf;
    const auto versions = versionsOf(shelf.folder, "bench");
    REQUIRE(versions);
    CHECK(shelf.answer({"versions", "bench"}) == fmt::format("versions of coupler 'bench', newest first\n"
                                                             "3  until {}  slot 3 \u2192 none\n"
                                                             "2  until {}  correction 1.44 \u2192 1.52 dB\n"
                                                             "1  until {}  {}\n",
                                                             versions->list[0].until, versions->list[1].until,
                                                             versions->list[2].until, versions->list[2].change));
    CHECK(shelf.answer({"putback", "bench", "--version", "2"}) ==
          "put back coupler 'bench'\n"
          "what stood before is a version too: 'couplet library versions' lists it\n");
    CHECK(shelf.folder.coupler("bench")->correction->value_dB == 1.44);
    CHECK(shelf.folder.coupler("bench")->slot == 3);
    CHECK(shelf.answer({"putback", "bench", "--version=4", "--json"}) ==
          "{\"put back\": [{\"kind\": \"coupler\", \"name\": \"bench\"}], \"notes\": [\"what stood before is a version "
          "too: 'couplet library versions' lists it\"]}\n");
    CHECK(shelf.folder.coupler("bench")->correction->value_dB == 1.52);
}

TEST_CASE("versions as JSON is one object, also of an item without any and of one that was removed")
{
    const Shelf shelf;
    CHECK(shelf.answer({"versions", "S 試", "--json"}) ==
          "{\"kind\": \"earphone\", \"name\": \"S 試\", \"removed\": false, \"versions\": [], \"notes\": []}\n");
    CHECK(shelf.answer({"versions", "S 試"}) ==
          "earphone 'S 試' has no version before: nothing of it was overwritten yet\n");
    shelf.answer({"remove", "S 試"});
    const auto until = versionsOf(shelf.folder, "S 試")->list.at(0).until;
    CHECK(shelf.answer({"versions", "earphone S 試", "--json"}) ==
          "{\"kind\": \"earphone\", \"name\": \"S 試\", \"removed\": true, \"versions\": [{\"number\": 1, \"until\": "
          "\"" +
              until + "\", \"change\": \"removed\"}], \"notes\": []}\n");
    CHECK(shelf.answer({"putback", "S 試", "--version", "1"}) == "put back earphone 'S 試'\n");
    CHECK(shelf.folder.list().items == shelf.items);
}

TEST_CASE("references taken since stay, and what stood so already is said")
{
    const Shelf shelf;
    auto coupler = withCorrection(fullCoupler("bench"), 2.0);
    coupler.references.push_back(referenceAt("2026-07-01T10:00:00Z", 121.5));
    REQUIRE(shelf.folder.save(coupler));
    CHECK(shelf.answer({"putback", "bench", "--version", "1"}).find("the reference taken since stays\n") !=
          std::string::npos);
    CHECK(shelf.folder.coupler("bench")->references == coupler.references);
    CHECK(shelf.answer({"putback", "bench", "--version", "1"}).find("it stood so already") != std::string::npos);
}

TEST_CASE("a version that there is not is refused with those that there are")
{
    const Changed shelf;
    CHECK(shelf.refusal({"putback", "bench", "--version", "9"}).find("has no version 9; it has 1, 2, 3: ") !=
          std::string::npos);
    CHECK(shelf.refusal({"putback", "bench", "--version", "two"}) ==
          "--version: 'two' is no version; write its number from 'couplet library versions NAME'");
    CHECK(shelf.refusal({"show", "bench", "--version", "1"}) ==
          "--version is for library putback; leave it out of library show");
    CHECK(shelf.refusal({"versions"}) == "library versions needs NAME; write it behind the versions");
}

TEST_CASE("a library as one file carries no versions")
{
    const Changed shelf;
    const auto file = (shelf.scratch.path / "all.json").string();
    shelf.answer({"export", file});
    const Folder other(shelf.scratch.path / "other");
    REQUIRE(shelf.run({"import", file}, other));
    CHECK(versionsOf(other, "bench")->list.empty());
    CHECK(*other.coupler("bench") == *shelf.folder.coupler("bench"));
}
