// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Bundle.h"
#include "Library/FolderVersions.h"
#include "Library/SavingMany.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <ctime>
#include <thread>

using namespace couplet;
using namespace couplet::tests;

namespace {

std::vector<Item> earphones(int count)
{
    std::vector<Item> items;
    for (int i = 0; i < count; ++i) {
        Earphone earphone;
        earphone.name = fmt::format("E {}", i);
        earphone.rating.level_dB = 100.0 + i % 20;
        items.emplace_back(earphone);
    }
    return items;
}

// Processor time of a plan and its saving, in a new library; the best of two.
double importCost_s(int count)
{
    const InMemory memory; // a slow disk makes for more looks at the folder, which is not the question here
    const auto items = earphones(count);
    double best_s = 1e9;
    for (int i = 0; i < 2; ++i) {
        const Scratch scratch;
        const Folder folder(scratch.path);
        const auto start = std::clock();
        const auto plan = planToSave(folder, items, "import.json");
        REQUIRE(plan);
        const auto done = saveMany(folder, plan->toSave, TakenSlot::isRefused);
        best_s = std::min(best_s, static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
        REQUIRE(done.saved == items.size());
    }
    return best_s;
}

Coupler inSlot(const std::string& name, int slot)
{
    Coupler coupler;
    coupler.name = name;
    coupler.slot = slot;
    return coupler;
}

} // namespace

TEST_CASE("an import of eight times as many items costs about eight times as much")
{
    const double one_s = importCost_s(250), eight_s = importCost_s(2000);
    WARN(fmt::format("processor time of an import: 250 items {:.3f} s, 2000 items {:.3f} s", one_s, eight_s));
    CHECK(eight_s <= 16.0 * one_s); // a cost that grows with the square has up to 64
}

TEST_CASE("10,000 items are imported, each of them", "[.long]")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto items = earphones(10000);
    std::size_t last = 0;
    const auto done = saveMany(folder, items, TakenSlot::isRefused, [&](std::size_t saved) {
        CHECK(saved >= last);
        last = saved;
    });
    CHECK_FALSE(done.fault);
    CHECK(last == items.size());
    CHECK(folder.list().items.size() == items.size());
}

TEST_CASE("many items are saved as one by one: new ones, those that differ, and the same again")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto old = fullCoupler("bench");
    REQUIRE(folder.save(old));
    REQUIRE(folder.save(fullEarphone("E 7")));
    auto theirs = old;
    theirs.correction->value_dB = 9.0;
    theirs.references = {referenceAt("2026-07-01T10:00:00Z", 121.0)};
    auto items = earphones(40);
    items.insert(items.begin() + 5, Item(theirs));
    const auto again = items[9];
    items.push_back(again);
    const auto done = saveMany(folder, items, TakenSlot::isRefused);
    REQUIRE_FALSE(done.fault);
    CHECK(done.saved == items.size());
    const auto coupler = folder.coupler("bench");
    CHECK(coupler->correction->value_dB == 9.0);
    CHECK(coupler->references.size() == old.references.size() + 1); // none is lost
    CHECK(std::get<Coupler>(versionsOf(folder, "bench")->list.at(0).item) == old);
    CHECK(std::get<Earphone>(versionsOf(folder, "E 7")->list.at(0).item) == fullEarphone("E 7"));
    CHECK(folder.list().items.size() == 41);
    CHECK(onlyFile(scratch.path, ".tmp").empty());
}

TEST_CASE("of two items of one name the later counts, and the earlier is a version")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto first = fullEarphone("P"), second = fullEarphone("P");
    second.rating.level_dB += 1.0;
    REQUIRE(saveMany(folder, {first, fullEarphone("Q"), second}, TakenSlot::isRefused).saved == 3);
    CHECK(*folder.earphone("P") == second);
    CHECK(std::get<Earphone>(versionsOf(folder, "P")->list.at(0).item) == first);
}

TEST_CASE("a name that is written in two ways is one item, and a new one gets the name that is kept")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto composed = fullEarphone("\u00e9"), apart = fullEarphone("e\u0301"), fresh = fullEarphone(" o\u0308 ");
    apart.rating.level_dB += 1.0;
    REQUIRE(folder.save(composed));
    REQUIRE_FALSE(saveMany(folder, {apart, fresh}, TakenSlot::isRefused).fault);
    CHECK(folder.list().items.size() == 2);
    CHECK(folder.earphone("\u00e9")->rating.level_dB == apart.rating.level_dB);
    CHECK(folder.earphone("\u00f6")->name == "\u00f6");
}

TEST_CASE("a slot that another coupler has is refused, or left out where that is wanted")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(inSlot("there", 4)));
    const std::vector<Item> items = {inSlot("a", 3), inSlot("b", 4), inSlot("c", 3)};
    const auto refused = saveMany(folder, items, TakenSlot::isRefused);
    REQUIRE(refused.fault);
    CHECK(refused.fault->sentence ==
          "coupler 'b' was not saved: slot 4 is taken by coupler 'there'; choose another slot");
    const auto done = saveMany(folder, items, TakenSlot::isLeftOut);
    CHECK_FALSE(done.fault);
    CHECK(done.withoutSlot == 2);
    CHECK(folder.coupler("a")->slot == 3);
    CHECK(folder.coupler("b")->slot == 0);
    CHECK(folder.coupler("c")->slot == 0);
}

TEST_CASE("what stands under an item's file name and is none of it is left as it is")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(fullEarphone("E 3")));
    const auto file = onlyFile(scratch.path, ".json");
    writeContent(file, "a person's notes");
    const auto done = saveMany(folder, earphones(6), TakenSlot::isRefused);
    REQUIRE(done.fault);
    CHECK(done.fault->sentence.starts_with("earphone 'E 3' was not saved: its file cannot be read"));
    CHECK(done.saved == 3); // those before it
    CHECK(contentOfFile(file) == "a person's notes");
    CHECK(folder.list().items.size() == 3);
}

TEST_CASE("another program saves while many items are being imported, and all are there")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    std::atomic<int> failures{0};
    std::thread other([&] {
        for (int i = 0; i < 5; ++i)
            failures += Folder(scratch.path).save(fullDriveSource(fmt::format("D {}", i))) ? 0 : 1;
    });
    const auto done = saveMany(folder, earphones(600), TakenSlot::isRefused);
    other.join();
    CHECK_FALSE(done.fault);
    CHECK(failures == 0);
    CHECK(folder.list().items.size() == 605);
    CHECK(folder.list().unreadable.empty());
}
