// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a cut of the power leaves of every kind of save, by a model of what file systems may forget.
#include "Library/PowerCut.h"
#include "Library/SaveScenarios.h"
#include "Library/Scratch.h"
#include "Library/Stepped.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <iostream>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

std::string toldOf(const Outcome<Done>& outcome)
{
    return outcome ? "done" : outcome.fault().sentence;
}

struct Counts
{
    std::size_t cuts = 0, ways = 0, images = 0;
};

// The first thing that is wrong, with the number of images that were good before.
std::string worst(const SaveScenario& scenario, const Recorded& record, std::size_t most, Counts& counts,
                  std::optional<std::size_t> ignoredSync = {})
{
    const Scratch images("images");
    Cuts cuts(record, most);
    cuts.ignoredSync = ignoredSync;
    std::string found;
    cuts.each(images.path, [&](const fs::path& into, bool complete) {
        const Folder folder(into / scenario.library);
        found = scenario.problem(folder, complete);
        if (found.empty())
            found = unsoundness(folder);
        return found.empty();
    });
    counts.cuts += cuts.cuts;
    counts.ways += cuts.ways;
    counts.images += cuts.images;
    return found;
}

Recorded recordOf(const SaveScenario& scenario, const Scratch& scratch)
{
    const Folder folder(scratch.path / scenario.library);
    scenario.prepare(folder);
    Recorded record(scratch.path);
    const auto went = stepped([&] { return toldOf(scenario.work(folder)); }, [](int) { return Fate{}; },
                              [&](const FileCall& call) { record.hear(call); });
    REQUIRE(went.answer == "done");
    return record;
}

void survivesCuts(std::size_t most)
{
    const InMemory memory;
    Counts counts;
    for (const auto& scenario : saveScenarios()) {
        CAPTURE(scenario.name);
        const Scratch scratch("watched");
        const auto record = recordOf(scenario, scratch);
        CHECK(worst(scenario, record, most, counts) == "");
        CHECK_FALSE(record.syncs().empty());
    }
    std::cout << "power cut: " << saveScenarios().size() << " kinds of save, " << counts.cuts << " moments, "
              << counts.ways << " ways, " << counts.images << " images\n";
}

// A program is killed at each of its steps, another does the work, and then the power is cut.
std::size_t killedThenCut(const SaveScenario& killed, const SaveScenario& next, int stride)
{
    const InMemory memory;
    std::size_t tried = 0;
    for (int step = 1;; step += stride, ++tried) {
        const Scratch scratch("watched");
        const Folder folder(scratch.path / killed.library);
        killed.prepare(folder);
        Recorded record(scratch.path);
        const auto hear = [&](const FileCall& call) { record.hear(call); };
        const auto first = stepped([&] { return toldOf(killed.work(folder)); },
                                   [&](int call) { return call == step ? Fate{Fate::Kind::kill} : Fate{}; }, hear);
        if (!first.killed)
            return tried;
        record.beginProcess();
        const auto second = stepped([&] { return toldOf(next.work(folder)); }, [](int) { return Fate{}; }, hear);
        CAPTURE(killed.name, next.name, step, first.last);
        REQUIRE(second.answer == "done");
        const Scratch images("images");
        Cuts cuts(record, 200);
        cuts.from = record.events();
        std::string found;
        cuts.each(images.path, [&](const fs::path& into, bool) {
            found = next.problem(Folder(into / next.library), true);
            return found.empty();
        });
        CHECK(found == "");
    }
}

const SaveScenario& scenarioNamed(const std::string& name)
{
    const auto& all = saveScenarios();
    const auto found = std::find_if(all.begin(), all.end(), [&](const auto& s) { return s.name == name; });
    REQUIRE(found != all.end());
    return *found;
}

// Each sync left out by itself: the model must find what that loses, but for those that are named with a reason.
void missesEachSync(std::size_t most, bool large)
{
    const InMemory memory;
    Counts counts;
    std::size_t tried = 0;
    for (const auto& scenario : saveScenarios()) {
        if (scenario.isLarge != large)
            continue;
        const Scratch scratch("watched");
        const auto record = recordOf(scenario, scratch);
        int number = 0;
        for (const auto& sync : record.syncs()) {
            ++number;
            ++tried;
            const bool isRedundant = std::any_of(scenario.redundant.begin(), scenario.redundant.end(),
                                                 [&](const auto& r) { return r.sync == number; });
            INFO(scenario.name << ", sync " << number << " of the " << sync.of);
            CHECK(worst(scenario, record, most, counts, sync.event).empty() == isRedundant);
        }
    }
    std::cout << "power cut: " << tried << " syncs left out, one at a time\n";
}

} // namespace

TEST_CASE("whatever a power cut drops of what was not synced, what was saved is there, or the version before")
{
    if (!canStep()) {
        WARN("this system does not let a program be stepped through: not tried");
        return;
    }
    survivesCuts(200);
}

TEST_CASE("without any one of its syncs, a power cut would lose something of a save")
{
    if (!canStep()) {
        WARN("this system does not let a program be stepped through: not tried");
        return;
    }
    missesEachSync(200, false);
}

TEST_CASE("what a program does after another was killed on its way lasts through a power cut")
{
    if (!canStep()) {
        WARN("this system does not let a program be stepped through: not tried");
        return;
    }
    for (const auto* name : {"a save into folders that are not there", "a first reading", "a save", "a reading"})
        CHECK(killedThenCut(scenarioNamed(name), scenarioNamed(name), 3) > 3);
    CHECK(killedThenCut(scenarioNamed("a library's start"), scenarioNamed("a save into folders that are not there"),
                        11) > 10);
}

TEST_CASE("nor does it matter where a library's start was stopped, or what was stopped before another did the same",
          "[.long]")
{
    for (const auto* name : {"a save into folders that are not there", "a first reading", "a save", "a reading",
                             "a first save", "a save where another item has its file", "an import", "an export"})
        CHECK(killedThenCut(scenarioNamed(name), scenarioNamed(name), 1) > 10);
    CHECK(killedThenCut(scenarioNamed("a library's start"), scenarioNamed("a save into folders that are not there"),
                        1) > 100);
}

TEST_CASE("nor could a save that moves older references on do without one", "[.long]")
{
    missesEachSync(200, true);
}
