// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Shelf.h"
#include "Library/Bundle.h"
#include "Library/Presets.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("putback brings back what was removed, the same")
{
    const Shelf shelf;
    shelf.answer({"remove", "bench"});
    CHECK(shelf.answer({"putback", "bench"}) == "put back coupler 'bench'\n");
    CHECK(shelf.folder.list().items == shelf.items);
    CHECK(shelf.refusal({"putback", "bench"}).find("nothing is there to put back") != std::string::npos);
}

TEST_CASE("rename gives another name, also one that another kind has")
{
    const Shelf shelf;
    CHECK(shelf.answer({"rename", "bench", "Lab"}) == "renamed to coupler 'Lab'\n");
    CHECK(shelf.folder.coupler("Lab"));
    CHECK_FALSE(shelf.folder.coupler("bench"));
    CHECK(shelf.refusal({"rename", "S 試", ""}).find("must have 1 to 120") != std::string::npos);
    CHECK(shelf.refusal({"rename", "Lab"}) == "library rename needs NEW-NAME; write it behind the NAME");
    CHECK(shelf.refusal({"rename", "a", "b", "c"}).find("'c' is one too many") != std::string::npos);
}

TEST_CASE("copy makes another item, and says that another coupler has no reference")
{
    const Shelf shelf;
    CHECK(shelf.answer({"copy", "bench"}) == "made coupler 'bench copy'\n"
                                             "it is another coupler: it has no reference yet\n");
    CHECK(shelf.folder.coupler("bench copy")->references.empty());
    CHECK(shelf.answer({"copy", "S 試", "--json"}) ==
          "{\"made\": [{\"kind\": \"earphone\", \"name\": \"S 試 copy\"}], \"notes\": []}\n");
}

TEST_CASE("presets adds those that are missing and leaves what is there")
{
    const Shelf shelf(false);
    Coupler own;
    own.name = "Bare microphone";
    own.gainNote = "mine";
    REQUIRE(shelf.folder.save(own));
    const auto said = shelf.answer({"presets"});
    CHECK(said.find("added coupler 'Ear simulator IEC 60318-4'\n") != std::string::npos);
    CHECK(said.find("coupler 'Bare microphone' was there already and is left as it is\n") != std::string::npos);
    CHECK(shelf.folder.list().items.size() == presets().size());
    CHECK(*shelf.folder.coupler("Bare microphone") == own);
    CHECK(shelf.answer({"presets", "--json"}).starts_with("{\"added\": [],"));
}

TEST_CASE("export of one coupler brings the calibrators that it names, and nothing else")
{
    const Shelf shelf(false);
    auto coupler = fullCoupler("bench");
    coupler.references[0].calibrator = "Lab";
    for (const Item& item :
         {Item(coupler), Item(fullCalibrator("Lab")), Item(fullCalibrator("other")), Item(fullEarphone("P"))})
        REQUIRE(shelf.folder.save(item));
    const auto file = (shelf.scratch.path / "one.json").string();
    CHECK(shelf.answer({"export", file, "--only", "bench"}) == "exported coupler 'bench'\nexported calibrator 'Lab'\n");
    CHECK(*readItems(file) == std::vector<Item>{coupler, fullCalibrator("Lab")});
    CHECK(shelf.answer({"export", (shelf.scratch.path / "p.json").string(), "--only", "P"}) ==
          "exported earphone 'P'\n");
    CHECK(
        shelf.refusal({"export", (shelf.scratch.path / "q.json").string(), "--only", "Q"}).starts_with("no item 'Q'"));
    CHECK(shelf.refusal({"list", "--only", "P"}) == "--only is for library export; leave it out of library list");
}
