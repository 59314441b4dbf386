// SPDX-License-Identifier: GPL-3.0-or-later
//
// A history that is longer than one file holds.
#include "Library/Bundle.h"
#include "Library/FileName.h"
#include "Library/FolderVersions.h"
#include "Library/LongHistory.h"
#include "Library/WatchedFolder.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <sys/wait.h>
#include <unistd.h>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

Coupler longOf(const Folder& folder, const std::string& name = "long")
{
    const auto coupler = folder.coupler(name);
    INFO((coupler ? "" : coupler.fault().sentence));
    REQUIRE(coupler);
    return *coupler;
}

// Each file with its text, by name.
std::vector<std::pair<fs::path, std::string>> textsByFile(const std::vector<fs::path>& files)
{
    std::vector<std::pair<fs::path, std::string>> texts;
    for (const auto& file : files)
        texts.emplace_back(file, contentOfFile(file));
    return texts;
}

void addTo(const Folder& folder, std::size_t number)
{
    auto coupler = longOf(folder);
    coupler.references.push_back(longReference(number));
    REQUIRE(folder.save(coupler));
}

} // namespace

TEST_CASE("a history of 3000 references is kept in files that can be read, and comes back as it was")
{
    const InMemory memory;
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto coupler = longCoupler("long", 3000);
    REQUIRE(folder.save(coupler));
    CHECK(longOf(folder) == coupler);
    CHECK(folder.list().unreadable.empty());
    CHECK(folder.list().items == std::vector<Item>{coupler});
    const auto files = historyFilesIn(scratch.path);
    CHECK(files.size() >= 2);
    CHECK(largestFileIn(scratch.path) <= 4u << 20);
    CHECK(contentOfFile(ownFileIn(scratch.path)).find("\"version\": 2") != std::string::npos);
    // One more costs the small file alone, until that is long again.
    const auto before = textsByFile(files);
    addTo(folder, 3000);
    CHECK(textsByFile(historyFilesIn(scratch.path)) == before);
    CHECK(fs::file_size(ownFileIn(scratch.path)) < 400000);
    CHECK(longOf(folder).references.size() == 3001);
    CHECK(longOf(folder).references.back() == longReference(3000));
}

TEST_CASE("four programs that keep references at once near 4 MB lose none, and all can be read")
{
    const InMemory memory;
    const Scratch scratch;
    const Folder folder(scratch.path);
    constexpr std::size_t each = 8, programs = 4;
    // As long as a version of before could keep in one file, and written as that did.
    auto coupler = longCoupler("long", 1);
    const auto one = textOf(coupler).size();
    coupler = longCoupler("long", 2);
    const auto per = textOf(coupler).size() - one;
    const auto count = (largestJson_bytes - one) / per - 5;
    coupler = longCoupler("long", count);
    REQUIRE(textOf(coupler).size() < largestJson_bytes);
    writeContent(scratch.path / fileNameOf(coupler), textOf(coupler));
    std::vector<pid_t> children;
    for (std::size_t program = 0; program < programs; ++program) {
        const auto child = ::fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            bool good = true;
            auto mine = *folder.coupler("long"); // and never read again: the others' are merged in by each save
            for (std::size_t i = 0; good && i < each; ++i) {
                mine.references.push_back(longReference(10000 + program * each + i));
                good = bool(folder.save(mine));
            }
            ::_exit(good ? 0 : 1);
        }
        children.push_back(child);
    }
    for (const auto child : children) {
        int status = 1;
        ::waitpid(child, &status, 0);
        CHECK(status == 0);
    }
    CHECK(folder.list().unreadable.empty());
    auto kept = longOf(folder).references;
    CHECK(kept.size() == count + programs * each);
    for (std::size_t i = 0; i < programs * each; ++i)
        CHECK(std::find(kept.begin(), kept.end(), longReference(10000 + i)) != kept.end());
    CHECK(largestFileIn(scratch.path) <= largestJson_bytes); // its .bak is the file of before
}

TEST_CASE("what is set aside far back in a long history stays so, in its place, and counts again when it is put back")
{
    const InMemory memory;
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto coupler = longCoupler("long", 1000);
    REQUIRE(folder.save(coupler));
    for (const auto* reason : {"the gain was changed", "", "again"}) {
        coupler.references[17].setAside = reason;
        REQUIRE(folder.save(coupler));
        CHECK(longOf(folder) == coupler);
    }
    for (std::size_t i = 1000; i < 2500; i += 500) { // until that moves on to a history file as well
        for (std::size_t j = 0; j < 500; ++j)
            coupler.references.push_back(longReference(i + j));
        REQUIRE(folder.save(coupler));
    }
    CHECK(longOf(folder) == coupler);
}

TEST_CASE("a long history goes with its coupler: renamed, removed, put back, copied, exported and imported")
{
    const InMemory memory;
    const Scratch scratch, other("elsewhere");
    const Folder folder(scratch.path), there(other.path);
    auto coupler = longCoupler("long", 3000);
    REQUIRE(folder.save(coupler));
    const auto files = textsByFile(historyFilesIn(scratch.path));

    REQUIRE(folder.rename("long", "longer"));
    CHECK_FALSE(folder.coupler("long"));
    coupler.name = "longer";
    CHECK(longOf(folder, "longer") == coupler);
    REQUIRE(folder.remove("longer"));
    // Another of that name and file has nothing of it.
    REQUIRE(folder.save(longCoupler("longer", 1)));
    CHECK(longOf(folder, "longer").references.size() == 1);
    REQUIRE(folder.rename("longer", "short"));
    auto slotless = longOf(folder, "short");
    slotless.slot = 0;
    REQUIRE(folder.save(slotless));
    REQUIRE(folder.putBack("longer"));
    CHECK(longOf(folder, "longer") == coupler);
    REQUIRE(folder.copy("longer"));
    CHECK(longOf(folder, "longer copy").references.empty());
    CHECK(textsByFile(historyFilesIn(scratch.path)) == files);

    const auto text = bundleTextOf(folder.list().items);
    REQUIRE(text);
    CHECK(text->size() > largestJson_bytes);
    writeContent(scratch.path / "all.bundle", *text);
    const auto items = readItems(scratch.path / "all.bundle");
    INFO((items ? "" : items.fault().sentence));
    REQUIRE(items);
    const auto plan = planToSave(there, *items, "all.bundle");
    REQUIRE(plan);
    for (const auto& item : plan->toSave)
        REQUIRE(there.save(item));
    CHECK(there.list().items == folder.list().items);
    CHECK(planToSave(there, *items, "all.bundle")->toSave.empty());
    // A coupler's own file is read with those beside it, and is refused without them.
    CHECK(*Folder::readFile(scratch.path / fileNameOf(coupler)) == Item(coupler));
    CHECK(readItems(scratch.path / fileNameOf(coupler))->front() == Item(coupler));
    const Scratch alone("alone");
    fs::copy(scratch.path / fileNameOf(coupler), alone.path / "long.json");
    CHECK(readItems(alone.path / "long.json").fault().sentence.find("put the file back from a copy of the folder") !=
          std::string::npos);
    CHECK_FALSE(itemsFrom("{\"kind\": \"couplet library\", \"version\": 1, \"items\": [" +
                              contentOfFile(alone.path / "long.json") + "]}",
                          "by hand"));
}

TEST_CASE("a history file that is broken, missing or another's is named, and the coupler goes on without it")
{
    const InMemory memory;
    const Scratch scratch, other("other");
    const Folder folder(scratch.path);
    REQUIRE(folder.save(longCoupler("long", 1200)));
    auto another = longCoupler("another", 2400);
    another.references.erase(another.references.begin(), another.references.begin() + 1200);
    REQUIRE(Folder(other.path).save(another));
    const auto file = historyFilesIn(scratch.path).front();
    const auto good = contentOfFile(file);
    WatchedFolder watch(folder);
    watch.refresh();
    CHECK(watch.listing().unreadable.empty());
    std::size_t number = 5000;
    for (const auto& [text, words] : std::vector<std::pair<std::string, std::string>>{
             {good.substr(0, good.size() / 2), "until then coupler 'long' lacks its references from 2020-"},
             {"", "it is empty"},
             {contentOfFile(historyFilesIn(other.path).front()), "put the right file in its place"},
             {contentOfFile(ownFileIn(scratch.path)), "version is 2, but this Couplet reads version 1"},
             {"gone", "put the file back from a copy of the folder"}}) {
        INFO(words);
        writeContent(file, text);
        if (text == "gone")
            fs::remove(file);
        const auto listing = folder.list();
        REQUIRE(listing.unreadable.size() == 1);
        INFO(listing.unreadable[0].sentence);
        CHECK(listing.unreadable[0].sentence.rfind(file.string(), 0) == 0);
        CHECK(listing.unreadable[0].sentence.find(words) != std::string::npos);
        CHECK(watch.refresh());
        CHECK(watch.listing().unreadable.size() == 1);
        const auto left = longOf(folder).references.size();
        CHECK((left > 50 && left < 1200));
        addTo(folder, number);
        CHECK(longOf(folder).references.back() == longReference(number++));
        writeContent(file, good);
        CHECK(watch.refresh());
        CHECK(watch.listing().unreadable.empty());
        CHECK(longOf(folder).references.size() == 1200 + number - 5000); // nothing is lost
    }
}

TEST_CASE("an item that would be too long to be read is not written, and the sentence says what to shorten")
{
    const InMemory memory;
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto coupler = longCoupler("long", 3000);
    REQUIRE(folder.save(coupler));
    auto longer = coupler;
    longer.gainNote = std::string(std::size_t{4} << 20, 'x');
    const auto refused = folder.save(longer);
    REQUIRE_FALSE(refused);
    CHECK(refused.fault().sentence ==
          "coupler 'long' was not saved: its file would be larger than 4 MB and could not be "
          "read again; shorten its response table or its texts");
    CHECK(longOf(folder) == coupler);
    auto earphone = fullEarphone("e");
    earphone.note = longer.gainNote;
    CHECK_FALSE(folder.save(earphone));
    CHECK(folder.list().unreadable.empty());
    // Almost too long by other things than references: those make room.
    longer.gainNote.resize((std::size_t{4} << 20) - 100000);
    REQUIRE(folder.save(longer));
    CHECK(longOf(folder) == longer);
}

TEST_CASE("versions of a coupler whose history moved into files are read with it, and put back with all references")
{
    const InMemory memory;
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto withValue = [](std::size_t references, double value_dB) {
        auto coupler = longCoupler("long", references);
        coupler.correction->value_dB = value_dB;
        return coupler;
    };
    REQUIRE(folder.save(withValue(100, 1.0)));
    REQUIRE(folder.save(withValue(100, 2.0))); // version 1: all in its own file
    REQUIRE(historyFilesIn(scratch.path).empty());
    REQUIRE(folder.save(withValue(1000, 2.0)));
    REQUIRE_FALSE(historyFilesIn(scratch.path).empty());
    REQUIRE(folder.save(withValue(1000, 3.0))); // a version that names history files
    const auto versions = versionsOf(folder, "long");
    REQUIRE(versions);
    CHECK(versions->unreadable.empty());
    REQUIRE(versions->list.size() == 3);
    CHECK(versions->list[0].item == Item(withValue(1000, 2.0)));
    CHECK(versions->list[1].item == Item(withValue(100, 2.0)));
    CHECK(versions->list[2].item == Item(withValue(100, 1.0)));
    CHECK(versions->list[1].change == "900 references more");

    REQUIRE(folder.save(withValue(1800, 3.0))); // further files
    REQUIRE(putBackVersion(folder, "long", versions->list[2].number));
    CHECK(longOf(folder) == withValue(1800, 1.0));
    REQUIRE(putBackVersion(folder, "long", versions->list[0].number));
    CHECK(longOf(folder) == withValue(1800, 2.0));
    REQUIRE(folder.remove("long"));
    REQUIRE(putBackVersion(folder, "long", versions->list[2].number));
    CHECK(longOf(folder) == withValue(1800, 1.0));
    CHECK(folder.list().unreadable.empty());
    CHECK(versionsOf(folder, "long")->unreadable.empty());
}
