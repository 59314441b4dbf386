// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Bundle.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("a coupler travels with the calibrators that its references and its correction name, and no others")
{
    Folder::Listing library;
    auto coupler = fullCoupler("bench");
    coupler.correction->calibrator = "of the correction";
    coupler.references[0].calibrator = "of a reference";
    library.items = {coupler,
                     fullCoupler("another"),
                     fullCalibrator("of a reference"),
                     fullCalibrator("of the correction"),
                     fullCalibrator("of nothing"),
                     fullEarphone("of a reference")};
    const std::vector<Item> expected = {coupler, library.items[2], library.items[3]};
    CHECK(withWhatItNeeds(library, coupler) == expected);
    const auto text = bundleTextOf(expected);
    REQUIRE(text);
    CHECK(*itemsFrom(*text, "here") == expected);
    coupler.correction.reset();
    coupler.references.clear();
    CHECK(withWhatItNeeds(library, coupler) == std::vector<Item>{coupler});
}

TEST_CASE("a broken file from elsewhere says nothing of a backup, one of the library's own does")
{
    const Scratch scratch;
    const auto file = scratch.path / "broken.json";
    writeContent(file, "{\"kind\": \"earphone\",");
    CHECK(Folder::readFile(file).fault().sentence.find(".bak") == std::string::npos);
    CHECK(readItems(file).fault().sentence.find(".bak") == std::string::npos);
    CHECK(Folder(scratch.path).list().unreadable.at(0).sentence.find(".bak") == std::string::npos);
    writeContent(file.string() + ".bak", textOf(fullEarphone("P")));
    CHECK(Folder(scratch.path).list().unreadable.at(0).sentence == file.string() +
                                                                       ", line 1: it ends before the '{' of its last "
                                                                       "part is closed; bring a whole copy, or put its "
                                                                       ".bak back in its place");
}
