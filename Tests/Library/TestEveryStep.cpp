// SPDX-License-Identifier: GPL-3.0-or-later
//
// A library survives a program that is killed, and a disk that fails, at each single call to the system.
#include "Library/Bundle.h"
#include "Library/Scratch.h"
#include "Library/Stepped.h"

#include <catch2/catch.hpp>

#include <cerrno>
#include <functional>
#include <vector>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

const std::string firstReading = R"({"level_db": 93.97})", nextReading = R"({"level_db": 94.01})";

std::string answerOf(const Outcome<Done>& outcome)
{
    return outcome ? "done" : outcome.fault().sentence;
}

Coupler before()
{
    return fullCoupler("c");
}

Coupler after()
{
    auto coupler = before();
    coupler.serial = "another";
    return coupler;
}

// A library of one coupler, one calibrator and one reading, new for each step.
struct Started
{
    Scratch scratch{"a library, größer"};
    Folder folder{scratch.path};
    Started()
    {
        REQUIRE(folder.save(before()));
        REQUIRE(folder.save(fullCalibrator("k")));
        REQUIRE(folder.appendReading(firstReading));
    }
};

Coupler newCoupler()
{
    auto coupler = fullCoupler("new");
    coupler.slot = before().slot - 1; // the slot itself is the other's
    return coupler;
}

// What an import does once its plan is known to be good.
Outcome<Done> saveAll(const Folder& folder, const std::vector<Item>& items)
{
    const auto plan = planToSave(folder, items, "import.json");
    if (!plan)
        return plan.fault();
    for (const auto& item : plan->toSave)
        if (auto saved = folder.save(item); !saved)
            return saved;
    return Done{};
}

using Work = std::function<Outcome<Done>(const Folder&)>;
using Check = std::function<void(const Folder&, bool done)>;

// What holds after any of them, whatever happened: all files can be read, the others' are untouched, and the next
// save works.
void checkSound(const Folder& folder)
{
    const auto listing = folder.list();
    for (const auto& fault : listing.unreadable)
        FAIL_CHECK(fault.sentence);
    CHECK(*folder.calibrator("k") == fullCalibrator("k"));
    auto next = after();
    next.serial = "a third";
    CHECK(folder.save(next));
    CHECK(folder.coupler("c")->serial == "a third");
    CHECK(folder.appendReading(nextReading));
    for (const auto& entry : fs::directory_iterator(folder.path())) // what the crash left has gone with that save
        CHECK(entry.path().extension() != ".tmp");
}

int killedAtEveryStep(const Work& work, const Check& check, const Work& prepare)
{
    int step = 1;
    for (;; ++step) {
        const Started library;
        REQUIRE(prepare(library.folder));
        const auto went = stepped([&] { return answerOf(work(library.folder)); },
                                  [&](int call) { return call == step ? Fate{Fate::Kind::kill} : Fate{}; });
        if (!went.killed) {
            CHECK(went.answer == "done");
            break;
        }
        CAPTURE(step, went.last);
        check(library.folder, false);
        checkSound(library.folder);
    }
    return step - 1;
}

int failedAtEveryStep(const Work& work, int error, const Check& check, const Work& prepare)
{
    int step = 1;
    for (;; ++step) {
        const Started library;
        REQUIRE(prepare(library.folder));
        const auto went = stepped([&] { return answerOf(work(library.folder)); },
                                  [&](int call) {
                                      return call == step ? Fate{Fate::Kind::fail, error} : Fate{};
                                  });
        if (went.calls < step)
            break;
        CAPTURE(step, went.last, went.answer);
        CHECK_FALSE(went.answer.empty());
        check(library.folder, went.answer == "done");
        checkSound(library.folder);
    }
    return step - 1;
}

// Each error that a disk or a folder gives, at each call.
const Work nothing = [](const Folder&) { return Done{}; };

void survives(const Work& work, const Check& check, const std::vector<int>& errors = {ENOSPC, EMFILE},
              const Work& prepare = nothing)
{
    if (!canStep()) {
        WARN("this system does not let a program be stepped through: not tried");
        return;
    }
    const InMemory memory;
    CHECK(killedAtEveryStep(work, check, prepare) >= 5);
    for (const int error : errors) {
        CAPTURE(error);
        CHECK(failedAtEveryStep(work, error, check, prepare) >= 5);
    }
}

void checkSave(const Folder& folder, bool done)
{
    const auto coupler = folder.coupler("c");
    REQUIRE(coupler);
    CHECK((*coupler == after() || (!done && *coupler == before())));
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
    if (newOne)
        REQUIRE(folder.rename("d", "c")); // and back again
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

const Work renaming = [](const Folder& folder) { return folder.rename("c", "d"); };
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
    survives(renaming, checkRename);
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

TEST_CASE("whatever error the disk gives at any step, a library stays sound", "[.long]")
{
    const std::vector<int> others{EIO, EACCES, EROFS, EPERM, EDQUOT};
    survives(save, checkSave, others);
    survives(firstSave, checkFirstSave, others);
    survives(removal, checkRemoval, others);
    survives(reading, checkReading, others);
    survives(renaming, checkRename, others);
    survives(copying, checkCopy, others);
    survives(import, checkImport, others);
}
