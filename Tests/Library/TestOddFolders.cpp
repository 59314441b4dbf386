// SPDX-License-Identifier: GPL-3.0-or-later
//
// Folders as people have them: behind links, shared by hand, gone for a while.
#include "Library/FileName.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

TEST_CASE("a library behind a link is used where it is, and an item behind a link stays where it is")
{
    const Scratch real("real"), other("other");
    const auto link = real.path.parent_path() / "link";
    fs::create_directories(real.path);
    fs::create_directory_symlink(real.path, link);
    const Folder folder(link);
    REQUIRE(folder.save(fullCoupler("c")));
    CHECK(*Folder(real.path).coupler("c") == fullCoupler("c"));

    fs::create_directories(other.path);
    const auto file = real.path / fileNameOf(fullCoupler("c")), elsewhere = other.path / "kept.json";
    fs::rename(file, elsewhere);
    fs::create_symlink(elsewhere, file);
    auto next = fullCoupler("c");
    next.serial = "another";
    REQUIRE(folder.save(next));
    CHECK(fs::is_symlink(file));
    CHECK(std::get<Coupler>(*Folder::readFile(elsewhere)) == next);
    fs::remove(link);
}

TEST_CASE("a link that leads nowhere or round in a circle is named and not written over")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullCoupler("good")));
    const auto circle = scratch.path / fileNameOf(fullCoupler("c"));
    fs::create_symlink(circle, circle);
    fs::create_symlink(scratch.path / "nothing.json.gone", scratch.path / "dangling.json");
    CHECK(folder.list().unreadable.size() == 2);
    CHECK(folder.coupler("good"));
    auto coupler = fullCoupler("c");
    coupler.slot = 1;
    const auto saved = folder.save(coupler);
    REQUIRE_FALSE(saved);
    CHECK(saved.fault().sentence.find(fileNameOf(coupler)) != std::string::npos);
    CHECK(fs::is_symlink(circle));
}

TEST_CASE("couplers that were given one slot by hand are both there, and saving one says so")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto one = fullCoupler("one"), two = fullCoupler("two");
    one.slot = two.slot = 3;
    REQUIRE(folder.save(one));
    REQUIRE(Folder::writeFile(scratch.path / "two.json", two)); // as an editor or a copy does
    CHECK(folder.coupler("one")->slot == 3);
    CHECK(folder.coupler("two")->slot == 3);
    CHECK(folder.list().unreadable.empty());
    two.serial = "changed";
    const auto saved = folder.save(two);
    REQUIRE_FALSE(saved);
    CHECK(saved.fault().sentence ==
          "coupler 'two' was not saved: slot 3 is taken by coupler 'one'; choose another slot");
    two.slot = 4;
    CHECK(folder.save(two));
}

TEST_CASE("a folder that goes away is an empty library, and saving makes it anew")
{
    const Scratch scratch("a library with spaces, größer, 図書");
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullCoupler("c")));
    fs::remove_all(scratch.path);
    CHECK(folder.list().items.empty());
    CHECK(folder.list().unreadable.empty());
    CHECK_FALSE(folder.coupler("c"));
    CHECK(folder.save(fullCoupler("c")));
    CHECK(*folder.coupler("c") == fullCoupler("c"));
}
