// SPDX-License-Identifier: GPL-3.0-or-later
//
// A library survives a program that is killed, and a disk that fails, at each single call to the system.
#include "Library/Bundle.h"
#include "Library/EveryStep.h"
#include "Library/FolderVersions.h"
#include "Library/SavingMany.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

// What an import does.
Outcome<Done> saveAll(const Folder& folder, const std::vector<Item>& items)
{
    const auto plan = planToSave(folder, items, "import.json");
    if (!plan)
        return plan.fault();
    const auto saved = saveMany(folder, plan->toSave, TakenSlot::isRefused);
    return saved.fault ? Outcome<Done>(*saved.fault) : Outcome<Done>(Done{});
}

// What was overwritten is a version, wherever the save ended.
void checkSave(const Folder& folder, bool done)
{
    const auto coupler = folder.coupler("c");
    REQUIRE(coupler);
    CHECK((*coupler == after() || (!done && *coupler == before())));
    if (*coupler == after())
        CHECK(isAVersion(folder, "c", before()));
}

void checkFirstSave(const Folder& folder, bool done)
{
    const auto coupler = folder.coupler("new");
    CHECK((coupler ? *coupler == newCoupler() : !done));
    CHECK(*folder.coupler("c") == before());
}

void checkRemoval(const Folder& folder, bool done)
{
    if (const auto coupler = folder.coupler("c")) {
        CHECK_FALSE(done);
        CHECK(*coupler == before());
        return;
    }
    const auto backup = onlyFile(folder.path(), ".bak");
    REQUIRE_FALSE(backup.empty());
    const auto kept = Folder::readFile(backup);
    REQUIRE(kept);
    CHECK(std::get<Coupler>(*kept) == before());
}

void checkReading(const Folder& folder, bool done)
{
    const auto text = contentOfFile(folder.path() / "readings.jsonl");
    CHECK(text.rfind(firstReading + "\n", 0) == 0);
    if (done)
        CHECK(text == firstReading + "\n" + nextReading + "\n");
}

const Work save = [](const Folder& folder) { return folder.save(after()); };
const Work firstSave = [](const Folder& folder) { return folder.save(newCoupler()); };
const Work removal = [](const Folder& folder) { return folder.remove("c"); };
const Work reading = [](const Folder& folder) { return folder.appendReading(nextReading); };

// Under exactly one of its names at every step, and nothing else of it but what may be had again.
void checkRename(const Folder& folder, bool done)
{
    const auto oldOne = folder.coupler("c"), newOne = folder.coupler("d");
    CHECK((oldOne ? 1 : 0) + (newOne ? 1 : 0) == 1);
    auto expected = before();
    expected.name = "d";
    if (newOne)
        CHECK(*newOne == expected);
    else
        CHECK((!done && *oldOne == before()));
    CHECK(isAVersion(folder, newOne ? "d" : "c", after())); // versions follow the name
    if (newOne)
        REQUIRE(folder.rename("d", "c")); // and back again
    CHECK(isAVersion(folder, "c", after()));
}

void checkCopy(const Folder& folder, bool done)
{
    CHECK(*folder.coupler("c") == before());
    if (const auto copy = folder.coupler("c copy"))
        CHECK(copy->response == before().response);
    else
        CHECK_FALSE(done);
}

void checkPutBack(const Folder& folder, bool done)
{
    const auto there = folder.coupler("c");
    if (!there)
        CHECK_FALSE(done);
    if (!there)
        REQUIRE(folder.putBack("c"));
    CHECK(*folder.coupler("c") == before());
}

// What is there of it is whole, and the same call takes the rest.
void checkImport(const Folder& folder, bool done)
{
    CHECK(*folder.coupler("c") == before());
    const auto fresh = folder.coupler("new"); // first of the two
    const auto earphone = folder.earphone("e");
    if (fresh)
        CHECK(*fresh == newCoupler());
    if (earphone)
        CHECK((fresh && *earphone == fullEarphone("e")));
    CHECK((!done || (fresh && earphone)));
}

// Version 1 of "c" is what `before` is; what stands when it is put back is `after`, with a reference more.
Coupler wentOn()
{
    auto coupler = after();
    coupler.references.push_back(referenceAt("2026-06-01T10:00:00Z", 121.9));
    return coupler;
}

Coupler backAgain()
{
    auto coupler = before();
    coupler.references = wentOn().references;
    return coupler;
}

void checkVersionPutBack(const Folder& folder, bool done)
{
    const auto coupler = folder.coupler("c");
    REQUIRE(coupler);
    CHECK((*coupler == backAgain() || (!done && *coupler == wentOn())));
    CHECK(isAVersion(folder, "c", before()));
    if (*coupler == backAgain())
        CHECK(isAVersion(folder, "c", wentOn())); // it can be undone
}

const Work versionPutBack = [](const Folder& folder) {
    const auto back = putBackVersion(folder, "c", 1);
    return back ? Outcome<Done>(Done{}) : Outcome<Done>(back.fault());
};
const Work toPutBack = [](const Folder& folder) {
    if (auto saved = folder.save(after()); !saved)
        return saved;
    return folder.save(wentOn());
};

const Work renaming = [](const Folder& folder) { return folder.rename("c", "d"); };
const Work toRename = [](const Folder& folder) {
    if (auto saved = folder.save(after()); !saved)
        return saved;
    return folder.save(before());
};
const Work copying = [](const Folder& folder) {
    const auto name = folder.copy("c");
    return name ? Outcome<Done>(Done{}) : Outcome<Done>(name.fault());
};
const Work putBack = [](const Folder& folder) { return folder.putBack("c"); };
const Work import = [](const Folder& folder) { return saveAll(folder, {newCoupler(), fullEarphone("e")}); };

} // namespace

TEST_CASE("a save that is killed or fails at any step leaves the version before or the new one, whole")
{
    survives(save, checkSave);
}

TEST_CASE("the first save of a coupler that is killed or fails at any step leaves it whole or not at all")
{
    survives(firstSave, checkFirstSave);
}

TEST_CASE("a removal that is killed or fails at any step leaves the coupler or its backup")
{
    survives(removal, checkRemoval);
}

TEST_CASE("a reading that is killed or fails at any step leaves those before it whole")
{
    survives(reading, checkReading);
}

TEST_CASE("a rename that is killed or fails at any step leaves the coupler under one of its names, whole")
{
    survives(renaming, checkRename, {ENOSPC, EMFILE}, toRename);
}

TEST_CASE("a copy that is killed or fails at any step leaves the original as it was")
{
    survives(copying, checkCopy);
}

TEST_CASE("a coupler put back by a program that is killed or fails at any step can still be put back")
{
    survives(putBack, checkPutBack, {ENOSPC, EMFILE}, [](const Folder& folder) { return folder.remove("c"); });
}

TEST_CASE("an import that is killed or fails at any step leaves whole items, and the same call takes the rest")
{
    survives(import, checkImport);
}

TEST_CASE("a version put back by a program that is killed or fails at any step leaves what stood or what was, whole")
{
    survives(versionPutBack, checkVersionPutBack, {ENOSPC}, toPutBack);
}

TEST_CASE("whatever error the disk gives at any step, a library stays sound", "[.long]")
{
    const std::vector<int> others{EIO, EACCES, EROFS, EPERM, EDQUOT};
    survives(save, checkSave, others);
    survives(firstSave, checkFirstSave, others);
    survives(removal, checkRemoval, others);
    survives(reading, checkReading, others);
    survives(renaming, checkRename, others, toRename);
    survives(copying, checkCopy, others);
    survives(import, checkImport, others);
    survives(versionPutBack, checkVersionPutBack, {EMFILE, EIO, EACCES, EROFS, EPERM, EDQUOT}, toPutBack);
}
