// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Scratch.h"
#include "Library/WatchedFolder.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <chrono>
#include <sys/stat.h>
#include <thread>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

// A file's time of change cannot be set: this waits until it is old enough to be trusted.
void letSettle()
{
    std::this_thread::sleep_for(std::chrono::milliseconds{3100});
}

void checkSameAs(const Folder::Listing& a, const Folder::Listing& b)
{
    CHECK(a.items == b.items);
    REQUIRE(a.unreadable.size() == b.unreadable.size());
    for (std::size_t i = 0; i < a.unreadable.size(); ++i)
        CHECK(a.unreadable[i].sentence == b.unreadable[i].sentence);
}

} // namespace

TEST_CASE("a watched folder shows what a fresh look shows, after every change")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    WatchedFolder watched(folder);
    const auto showsChange = [&] {
        CHECK(watched.refresh());
        checkSameAs(watched.listing(), folder.list());
        CHECK_FALSE(watched.refresh());
    };
    showsChange(); // the first look
    REQUIRE(folder.save(fullCoupler("b")));
    showsChange();
    REQUIRE_FALSE(folder.save(fullCoupler("a"))); // the slot is taken
    CHECK_FALSE(watched.refresh());
    REQUIRE(folder.save(fullEarphone("e")));
    showsChange();
    REQUIRE(folder.rename("b", "c"));
    showsChange();
    writeContent(scratch.path / "broken.json", "{");
    showsChange();
    writeContent(scratch.path / "broken.json", "["); // as long, and in place
    showsChange();
    writeContent(scratch.path / "second.json", textOf(fullEarphone("e")));
    showsChange();
    REQUIRE(folder.remove("e"));
    showsChange();
    fs::remove_all(scratch.path);
    showsChange();
}

TEST_CASE("only what changed is read again")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    for (int i = 0; i < 20; ++i)
        writeContent(scratch.path / fmt::format("{}.json", i), textOf(fullEarphone(fmt::format("{}", i))));
    letSettle();
    WatchedFolder watched(folder);
    REQUIRE(watched.refresh());
    CHECK(watched.filesReadLast() == 20);
    CHECK_FALSE(watched.refresh());
    CHECK(watched.filesReadLast() == 0);
    auto changed = fullEarphone("7");
    changed.note = "small tips";
    REQUIRE(folder.save(changed));
    CHECK(watched.refresh());
    CHECK(watched.filesReadLast() == 1);
    CHECK(watched.listing().items == folder.list().items);
}

TEST_CASE("a folder that is not there is an empty library, and one that cannot be read says so")
{
    const Scratch scratch;
    WatchedFolder watched(Folder(scratch.path / "none"));
    watched.refresh();
    CHECK(watched.listing().items.empty());
    CHECK(watched.listing().unreadable.empty());
    writeContent(scratch.path / "none", "a file");
    CHECK(watched.refresh());
    CHECK(watched.listing().unreadable.size() == 1);
}
