// SPDX-License-Identifier: GPL-3.0-or-later
//
// What was overwritten in a library is listed and put back.
#include "Library/FolderVersions.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

Coupler withCorrection(Coupler coupler, double value_dB)
{
    coupler.correction->value_dB = value_dB;
    return coupler;
}

Coupler withReferences(Coupler coupler, int count)
{
    for (int i = 0; i < count; ++i)
        coupler.references.push_back(
            referenceAt(fmt::format("2026-07-{:02}T{:02}:00:00Z", 1 + i / 24, i % 24), 121.0 + 0.01 * i));
    return coupler;
}

std::string faultOf(const Outcome<VersionPutBack>& outcome)
{
    return outcome ? "no fault" : outcome.fault().sentence;
}

std::vector<std::string> changesOf(const Folder& folder, const std::string& name)
{
    const auto versions = versionsOf(folder, name);
    REQUIRE(versions);
    CHECK(versions->unreadable.empty());
    std::vector<std::string> changes;
    for (const auto& version : versions->list)
        changes.push_back(version.change);
    return changes;
}

std::size_t filesIn(const fs::path& folder)
{
    std::size_t count = 0;
    for (const auto& entry : fs::recursive_directory_iterator(folder))
        count += entry.is_regular_file() ? 1 : 0;
    return count;
}

using Changes = std::vector<std::string>;

void checkPruning(int saves)
{
    const InMemory memory;
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto earphone = fullEarphone("P");
    auto coupler = fullCoupler("bench");
    for (int i = 0; i < saves; ++i) {
        coupler = i % 2 == 0 ? withCorrection(coupler, 1.0 + 0.01 * i) : coupler;
        coupler.references = withReferences(fullCoupler("bench"), i / 3).references;
        REQUIRE(folder.save(coupler));
        earphone.rating.level_dB = 100.0 + 0.01 * i;
        REQUIRE(folder.save(earphone));
    }
    const auto versions = versionsOf(folder, "P");
    REQUIRE(versions);
    REQUIRE(versions->list.size() == 10);
    for (int i = 0; i < 10; ++i) // the last is there
        CHECK(std::get<Earphone>(versions->list[static_cast<std::size_t>(i)].item).rating.level_dB ==
              100.0 + 0.01 * (saves - 2 - i));
    CHECK(versions->list.front().number == saves - 1);
    CHECK(filesIn(scratch.path / ".versions") <= 30);
    int overwritten = 0;
    for (const auto& change : changesOf(folder, "bench"))
        overwritten += change.starts_with("correction") ? 1 : 0;
    CHECK(overwritten == 10);
    CHECK(folder.list().items.size() == 2); // versions are no items
}

} // namespace

TEST_CASE("each change is listed, newest first, with what was changed, and its number stays its own")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto coupler = withCorrection(fullCoupler("bench"), 1.44);
    coupler.slot = 3;
    REQUIRE(folder.save(coupler));
    CHECK(changesOf(folder, "bench").empty());
    coupler.correction->value_dB = 1.52;
    REQUIRE(folder.save(coupler));
    coupler.slot = 0;
    REQUIRE(folder.save(coupler));
    coupler = withReferences(coupler, 2);
    REQUIRE(folder.save(coupler));
    CHECK(changesOf(folder, "bench") ==
          Changes{"2 references more", "slot 3 \u2192 none", "correction 1.44 \u2192 1.52 dB"});
    const auto versions = versionsOf(folder, "coupler bench");
    REQUIRE(versions);
    CHECK(versions->list[2].number == 1);
    CHECK(std::get<Coupler>(versions->list[2].item).correction->value_dB == 1.44);
    const auto now = timeNow();
    CHECK(versions->list[0].until.substr(0, 10) >= now.substr(0, 10));
    CHECK(versions->list[0].until.back() == 'Z');
    REQUIRE(folder.save(coupler)); // the same again is no change
    CHECK(changesOf(folder, "bench").size() == 3);
}

TEST_CASE("an overwritten correction is found again after 50 references more, and put back with all of them")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto typed = withCorrection(fullCoupler("bench"), 1.44);
    REQUIRE(folder.save(typed));
    auto coupler = withCorrection(typed, 1.52);
    REQUIRE(folder.save(coupler));
    for (int count = 1; count <= 50; ++count)
        REQUIRE(folder.save(withReferences(coupler, count)));
    CHECK(changesOf(folder, "bench") == Changes{"50 references more", "correction 1.44 \u2192 1.52 dB"});
    const auto back = putBackVersion(folder, "bench", 1);
    REQUIRE(back);
    CHECK(back->stayed == 50);
    auto expected = withReferences(typed, 50);
    CHECK(*folder.coupler("bench") == expected);
    CHECK(std::get<Coupler>(back->now) == expected);

    // What stood is a version itself: the put back is undone.
    CHECK(changesOf(folder, "bench").front() == "correction 1.52 \u2192 1.44 dB");
    REQUIRE(putBackVersion(folder, "bench", versionsOf(folder, "bench")->list[0].number));
    CHECK(*folder.coupler("bench") == withReferences(coupler, 50));
}

TEST_CASE("the last ten that overwrote something stay, and any number of saves leave at most 20 files an item")
{
    checkPruning(30);
}

TEST_CASE("1,000 saves leave no more", "[.long]")
{
    checkPruning(500);
}

TEST_CASE("versions follow a rename, and a removed item's are put back by the name that it had")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(withCorrection(fullCoupler("bench"), 1.44)));
    REQUIRE(folder.save(withCorrection(fullCoupler("bench"), 1.52)));
    REQUIRE(folder.rename("bench", "\u8a66 left"));
    CHECK(changesOf(folder, "\u8a66 left") ==
          Changes{"renamed 'bench' \u2192 '\u8a66 left'", "correction 1.44 \u2192 1.52 dB"});
    CHECK_FALSE(versionsOf(folder, "bench"));
    const auto renamed = putBackVersion(folder, "\u8a66 left", 2);
    REQUIRE(renamed);
    CHECK_FALSE(renamed->isChanged); // its name is the present one, whatever it was
    REQUIRE(folder.remove("\u8a66 left"));
    const auto versions = versionsOf(folder, "\u8a66 left");
    REQUIRE(versions);
    CHECK(versions->isRemoved);
    CHECK(versions->list.front().change == "removed");
    REQUIRE(putBackVersion(folder, "coupler \u8a66 left", 1));
    CHECK(*folder.coupler("\u8a66 left") == withCorrection(fullCoupler("\u8a66 left"), 1.44));
}

TEST_CASE("a removed coupler that is put back as of an old version has the references of its last one")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto old = withCorrection(fullCoupler("bench"), 1.44);
    REQUIRE(folder.save(old));
    REQUIRE(folder.save(withReferences(withCorrection(old, 1.52), 7)));
    REQUIRE(folder.remove("bench"));
    REQUIRE(putBackVersion(folder, "bench", 1));
    CHECK(*folder.coupler("bench") == withReferences(old, 7));
    REQUIRE(putBackVersion(folder, "bench", versionsOf(folder, "bench")->list.front().number));
    CHECK(folder.coupler("bench")->correction->value_dB == 1.52);
}

TEST_CASE("one that took a name after another goes on where that one's versions end")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.save(withCorrection(fullCoupler("old"), 1.0)));
    REQUIRE(folder.save(withCorrection(fullCoupler("old"), 2.0)));
    REQUIRE(folder.remove("old"));
    REQUIRE(folder.save(withCorrection(fullCoupler("new"), 3.0)));
    REQUIRE(folder.save(withCorrection(fullCoupler("new"), 4.0)));
    REQUIRE(folder.rename("new", "old"));
    const auto versions = versionsOf(folder, "old");
    REQUIRE(versions);
    std::vector<double> values;
    std::vector<int> numbers;
    for (const auto& version : versions->list) {
        values.push_back(std::get<Coupler>(version.item).correction->value_dB);
        numbers.push_back(version.number);
    }
    CHECK(values == std::vector<double>{4.0, 3.0, 2.0, 1.0});
    CHECK(numbers == std::vector<int>{4, 3, 2, 1});
}

TEST_CASE("a slot that was given away, a number that there is not and a name unknown are refused with the mend")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto coupler = fullCoupler("bench");
    coupler.slot = 3;
    REQUIRE(folder.save(coupler));
    coupler.slot = 0;
    REQUIRE(folder.save(coupler));
    auto other = fullCoupler("other");
    other.slot = 3;
    REQUIRE(folder.save(other));
    CHECK(faultOf(putBackVersion(folder, "bench", 1)) ==
          "version 1 of coupler 'bench' was not put back: slot 3 is taken by coupler 'other' by now; give that one "
          "another slot first");
    CHECK(*folder.coupler("bench") == coupler);
    CHECK(faultOf(putBackVersion(folder, "bench", 7)) ==
          "coupler 'bench' has no version 7; it has 1: 'couplet library versions 'bench'' says what was changed in "
          "each");
    CHECK(faultOf(putBackVersion(folder, "other", 1)) ==
          "coupler 'other' has no version 1: nothing of it was overwritten yet");
    CHECK(faultOf(putBackVersion(folder, "nothing", 1)).starts_with("no item 'nothing'"));
}

TEST_CASE("what cannot be kept is not overwritten, but a reference more is saved all the same")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto coupler = fullCoupler("bench");
    REQUIRE(folder.save(coupler));
    writeContent(scratch.path / ".versions", "in the way");
    const auto refused = folder.save(withCorrection(coupler, 9.0));
    REQUIRE_FALSE(refused);
    CHECK(refused.fault().sentence.find("the version before could not be kept in") != std::string::npos);
    CHECK(*folder.coupler("bench") == coupler);
    REQUIRE(folder.save(withReferences(coupler, 1)));
    CHECK(*folder.coupler("bench") == withReferences(coupler, 1));
    REQUIRE(folder.remove("bench")); // its text is the backup
    REQUIRE(folder.putBack("bench"));
    CHECK(*folder.coupler("bench") == withReferences(coupler, 1));
}

TEST_CASE("a version that is damaged is named, and the others are put back")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    for (const double value : {1.0, 2.0, 3.0})
        REQUIRE(folder.save(withCorrection(fullCoupler("bench"), value)));
    const auto first = *versionsOf(folder, "bench");
    REQUIRE(first.list.size() == 2);
    const auto store = scratch.path / ".versions";
    fs::path damaged;
    for (const auto& entry : fs::recursive_directory_iterator(store))
        if (entry.path().filename().string().starts_with("000002-"))
            damaged = entry.path();
    fs::remove(damaged);
    writeContent(damaged, "{\"kind\": \"coupler\",");
    writeContent(damaged.parent_path() / "notes.txt", "a person's");
    const auto versions = versionsOf(folder, "bench");
    REQUIRE(versions);
    CHECK(versions->unreadable.size() == 1);
    CHECK(faultOf(putBackVersion(folder, "bench", 2)).find(damaged.string()) != std::string::npos);
    REQUIRE(putBackVersion(folder, "bench", 1));
    CHECK(folder.coupler("bench")->correction->value_dB == 1.0);
}

TEST_CASE("an item that is a link to a file elsewhere has versions of that file's text, in the library")
{
    const Scratch scratch, elsewhere;
    const Folder folder(scratch.path);
    fs::create_directories(scratch.path);
    const auto real = elsewhere.path / "mine.json";
    fs::create_directories(elsewhere.path);
    writeContent(real, textOf(fullEarphone("P")));
    fs::create_symlink(real, scratch.path / "mine.json");
    auto changed = fullEarphone("P");
    changed.note = "another";
    REQUIRE(folder.save(changed));
    for (const auto& entry : fs::recursive_directory_iterator(scratch.path / ".versions"))
        CHECK_FALSE(entry.is_symlink());
    REQUIRE(putBackVersion(folder, "P", 1));
    CHECK(*folder.earphone("P") == fullEarphone("P"));
    CHECK(fs::is_symlink(scratch.path / "mine.json"));
}
