// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/EveryStep.h"

#include "Library/FolderVersions.h"
#include "Library/Stepped.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace couplet::tests {

namespace fs = std::filesystem;

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

Coupler newCoupler()
{
    auto coupler = fullCoupler("new");
    coupler.slot = before().slot - 1; // the slot itself is the other's
    return coupler;
}

namespace {

std::string answerOf(const Outcome<Done>& outcome)
{
    return outcome ? "done" : outcome.fault().sentence;
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

} // namespace

// Each error that a disk or a folder gives, at each call.
void survives(const Work& work, const Check& check, const std::vector<int>& errors, const Work& prepare)
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

bool isAVersion(const Folder& folder, const std::string& name, const Coupler& coupler)
{
    const auto versions = versionsOf(folder, name);
    return versions && versions->unreadable.empty() &&
           std::any_of(versions->list.begin(), versions->list.end(),
                       [&](const Version& v) { return std::get<Coupler>(v.item) == coupler; });
}

} // namespace couplet::tests
