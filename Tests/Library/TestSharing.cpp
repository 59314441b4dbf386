// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Scratch.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <chrono>
#include <fstream>
#include <map>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

using namespace couplet;
using namespace couplet::tests;

namespace {

// Adds references to a coupler as a program does that loads it, adds one and saves it, and readings, for so long.
// Returns how many of each, negative after a failure.
int work(const std::filesystem::path& path, int worker, std::chrono::seconds busyTime)
{
    const Folder folder(path);
    const auto end = std::chrono::steady_clock::now() + busyTime;
    int count = 0;
    for (; std::chrono::steady_clock::now() < end; ++count) {
        auto coupler = folder.coupler("shared");
        if (!coupler)
            return -1;
        coupler->references.push_back(referenceAt(timeNow(), 1000.0 * worker + count));
        if (!folder.save(*coupler) ||
            !folder.appendReading(fmt::format(R"({{"worker": {}, "count": {}}})", worker, count)))
            return -1;
    }
    return count;
}

void saveFromTwoProcesses(std::chrono::seconds busyTime)
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    Coupler shared;
    shared.name = "shared";
    REQUIRE(folder.save(shared));

    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    const auto workTwice = [&](int first) {
        std::map<int, int> counts;
        int a = -1, b = -1;
        std::thread other([&] { a = work(scratch.path, first, busyTime); });
        b = work(scratch.path, first + 1, busyTime);
        other.join();
        return std::pair(a, b);
    };
    const auto child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        const auto counts = workTwice(3);
        const bool told = ::write(ends[1], &counts, sizeof counts) == sizeof counts;
        ::_exit(told ? 0 : 1);
    }
    const auto mine = workTwice(1);
    std::pair<int, int> theirs;
    REQUIRE(::read(ends[0], &theirs, sizeof theirs) == sizeof theirs);
    int status = 1;
    ::waitpid(child, &status, 0);
    REQUIRE(status == 0);

    std::map<int, int> saved, kept;
    const auto coupler = folder.coupler("shared");
    REQUIRE(coupler);
    for (const auto& reference : coupler->references)
        ++saved[static_cast<int>(reference.offset_dB) / 1000];
    std::ifstream readings(scratch.path / "readings.jsonl");
    for (std::string line; std::getline(readings, line);)
        ++kept[line.at(11) - '0'];
    const std::map<int, int> wanted = {{1, mine.first}, {2, mine.second}, {3, theirs.first}, {4, theirs.second}};
    CHECK(saved == wanted);
    CHECK(kept == wanted);
    for (const auto& [worker, count] : wanted)
        CHECK(count > 0);
    CHECK(folder.list().unreadable.empty());
}

} // namespace

TEST_CASE("two processes of two threads each that save for a second lose nothing")
{
    saveFromTwoProcesses(std::chrono::seconds{1});
}

TEST_CASE("nor when they save for ten seconds", "[.long]")
{
    saveFromTwoProcesses(std::chrono::seconds{10});
}

TEST_CASE("references that another program added meanwhile stay in the history, in the order of their times")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    Coupler ours;
    ours.name = "bench";
    ours.references = {referenceAt("2026-05-01T10:00:00Z", 1.0)};
    REQUIRE(folder.save(ours));
    auto theirs = ours;
    theirs.references.push_back(referenceAt("2026-05-02T10:00:00Z", 2.0));
    REQUIRE(folder.save(theirs));
    ours.references.push_back(referenceAt("2026-05-03T10:00:00Z", 3.0));
    ours.references[0].setAside = "the gain was changed";
    REQUIRE(folder.save(ours));
    const auto kept = folder.coupler("bench")->references;
    REQUIRE(kept.size() == 3);
    CHECK(kept[0].setAside == "the gain was changed");
    CHECK(kept[1].offset_dB == 2.0);
    CHECK(kept[2].offset_dB == 3.0);
}

TEST_CASE("a reader beside a saving program always sees a whole item")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto earphone = fullEarphone("e");
    REQUIRE(folder.save(earphone));
    std::atomic<bool> done{false};
    std::atomic<int> failures{0};
    std::thread writer([&] {
        for (int i = 0; i < 100; ++i) {
            earphone.note = std::string(static_cast<std::size_t>(i) * 50, 'x');
            failures += folder.save(earphone) ? 0 : 1;
        }
        done = true;
    });
    int reads = 0;
    for (; !done; ++reads) {
        const auto listing = folder.list();
        failures += listing.items.size() == 1 && listing.unreadable.empty() ? 0 : 1;
    }
    writer.join();
    CHECK(failures == 0);
    CHECK(reads > 0);
}
