// SPDX-License-Identifier: GPL-3.0-or-later
//
// A history that is longer than one file holds: what it costs, and what a stop on the way leaves of it.
#include "Bench/ReferenceHistory.h"
#include "Library/Bundle.h"
#include "Library/LongHistory.h"
#include "Library/SaveScenarios.h"
#include "Library/Stepped.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <ctime>
#include <iostream>

using namespace couplet;
using namespace couplet::tests;

namespace {

std::vector<std::string> textsIn(const std::filesystem::path& folder)
{
    std::vector<std::string> texts;
    for (const auto& file : historyFilesIn(folder))
        texts.push_back(contentOfFile(file));
    return texts;
}

// Processor time, as a ratio to that of parsing the same bytes; were anything quadratic, it would be hundreds of times.
void takesLittleTime(std::size_t count)
{
    const InMemory memory;
    const Scratch scratch;
    const Folder folder(scratch.path);
    auto coupler = longCoupler("long", count);
    REQUIRE(folder.save(coupler));
    const auto seconds = [](const auto& work) {
        const auto begin = std::clock();
        work();
        return static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
    };
    const auto before = textsIn(scratch.path);
    std::size_t bytes = 0, parsed = 0;
    const double parsing_s = seconds([&] {
        for (const auto& text : before) {
            bytes += text.size();
            parsed += parsedJson(text, "history") ? 1 : 0;
        }
    });
    REQUIRE(parsed == before.size());
    const double opening_s = seconds([&] { CHECK(*folder.coupler("long") == coupler); });
    coupler.references.push_back(longReference(count));
    const double adding_s = seconds([&] { REQUIRE(folder.save(coupler)); });
    CHECK(textsIn(scratch.path) == before);
    std::size_t charted = 0, exported = 0;
    const double charting_s = seconds([&] { charted = historyOf(coupler, "2026-01-01T00:00:00Z").points.size(); });
    CHECK(charted == count + 1);
    const double exporting_s = seconds([&] { exported = bundleTextOf({coupler})->size(); });
    CHECK(exported > bytes / 2);
    std::cout << fmt::format("{} references, {:.1f} MB in {} files: parsing {:.2f} s; times that: opening {:.1f}, "
                             "adding one {:.1f}, charting {:.2f}, exporting {:.1f}\n",
                             count, 1e-6 * static_cast<double>(bytes), before.size(), parsing_s, opening_s / parsing_s,
                             adding_s / parsing_s, charting_s / parsing_s, exporting_s / parsing_s);
    CHECK(opening_s < 8.0 * parsing_s);
    CHECK(adding_s < 12.0 * parsing_s);
    CHECK(charting_s < 20.0 * parsing_s);
    CHECK(exporting_s < 40.0 * parsing_s);
}

std::string saidOf(const Outcome<Done>& done)
{
    return done ? "done" : done.fault().sentence;
}

// The save that moves references on, stopped at each of its calls.
void stopsRolling(Fate::Kind kind, int error, int stride)
{
    if (!canStep()) {
        WARN("this system does not let a program be stepped through: not tried");
        return;
    }
    const InMemory memory;
    const auto& all = saveScenarios();
    const auto scenario = std::find_if(all.begin(), all.end(), [](const auto& s) { return s.isLarge; });
    int tried = 0;
    for (int step = 1;; step += stride, ++tried) {
        const Scratch scratch;
        const Folder folder(scratch.path);
        scenario->prepare(folder);
        const auto went = stepped([&] { return saidOf(scenario->work(folder)); },
                                  [&](int call) {
                                      return call == step ? Fate{kind, error} : Fate{};
                                  });
        CAPTURE(step, went.last, went.answer);
        if (went.calls < step)
            break;
        CHECK(scenario->problem(folder, went.answer == "done") == "");
        CHECK(unsoundness(folder) == "");
    }
    CHECK(tried > 10);
}

} // namespace

TEST_CASE("a save that moves older references on and is killed leaves each in a file")
{
    stopsRolling(Fate::Kind::kill, 0, 3);
}

TEST_CASE("nor does it lose one whatever call of it is killed or fails", "[.long]")
{
    stopsRolling(Fate::Kind::kill, 0, 1);
    for (const int error : {ENOSPC, EMFILE, EIO, EACCES, EROFS})
        stopsRolling(Fate::Kind::fail, error, 1);
}

TEST_CASE("a long history opens, is charted, takes one more and goes out in a few times what its bytes take to parse")
{
    takesLittleTime(3000);
}

TEST_CASE("and so does one of 20000 references", "[.long]")
{
    takesLittleTime(20000);
}
