// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/SimulatedPapers.h"
#include "Library/FileName.h"
#include "Library/Presets.h"
#include "Library/Scratch.h"
#include "Library/Stepped.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <iterator>
#include <thread>

using namespace couplet;
using namespace couplet::tests;

namespace {

namespace fs = std::filesystem;

const fs::path files = fs::path(COUPLET_TESTS_DIR) / ".." / "Presets";

} // namespace

TEST_CASE("the presets load whole, as a library of their own")
{
    const auto listing = Folder(files).list();
    for (const auto& fault : listing.unreadable)
        FAIL_CHECK(fault.sentence);
    CHECK(listing.items.size() == 11);
    CHECK(listing.items == presets());
}

TEST_CASE("a new library starts with the presets and never gets them a second time")
{
    const Scratch scratch;
    const Folder folder(scratch.path / "of its own" / "library/");
    REQUIRE(startLibrary(folder));
    CHECK(folder.list().items == presets());
    CHECK(std::distance(fs::directory_iterator(folder.path().parent_path().parent_path()), {}) == 1);
    for (const auto& item : presets())
        REQUIRE(folder.remove(kindOf(item) + " " + nameOf(item)));
    REQUIRE(startLibrary(folder));
    CHECK(folder.list().items.empty());
    const Folder empty(scratch.path);
    REQUIRE(startLibrary(empty));
    CHECK(empty.list().items.empty());
}

TEST_CASE("a library that cannot be started is a fault and leaves nothing behind")
{
    const Scratch scratch;
    writeContent(scratch.path / "file", "");
    const auto started = startLibrary(Folder(scratch.path / "file" / "library"));
    REQUIRE_FALSE(started);
    CHECK(started.fault().sentence.find("could not be started (Not a directory); give write permission there or "
                                        "choose another with --library") != std::string::npos);
    CHECK(std::distance(fs::directory_iterator(scratch.path), {}) == 1);
}

TEST_CASE("a library whose start is killed on the way is there whole or not at all, and the next start makes it")
{
    if (!canStep()) {
        WARN("this system does not let a program be stepped through: not tried");
        return;
    }
    constexpr int stride = 11; // some 20 of the more than 200 calls
    int tried = 0;
    for (int step = 1;; step += stride, ++tried) {
        const Scratch scratch;
        const Folder folder(scratch.path / "library");
        const auto went = stepped([&] { return std::string(startLibrary(folder) ? "done" : "fault"); },
                                  [&](int call) { return call == step ? Fate{Fate::Kind::kill} : Fate{}; });
        if (!went.killed)
            break;
        CAPTURE(step, went.last);
        if (fs::exists(folder.path()))
            CHECK(folder.list().items == presets());
        REQUIRE(startLibrary(folder));
        CHECK(folder.list().items == presets());
        CHECK(std::distance(fs::directory_iterator(scratch.path), {}) == 1); // nothing is left beside it
    }
    CHECK(tried > 10);
}

TEST_CASE("two programs that start a library at once make one")
{
    const Scratch scratch;
    const Folder folder(scratch.path / "library");
    std::vector<std::thread> programs;
    std::atomic<int> failures{0};
    for (int i = 0; i < 4; ++i)
        programs.emplace_back([&] { failures += startLibrary(folder) ? 0 : 1; });
    for (auto& program : programs)
        program.join();
    CHECK(failures == 0);
    CHECK(folder.list().items == presets());
    CHECK(std::distance(fs::directory_iterator(scratch.path), {}) == 1);
}

TEST_CASE("preset earphones are the simulated bench's own, and say so")
{
    std::size_t count = 0;
    for (const auto& item : presets())
        if (const auto* earphone = std::get_if<Earphone>(&item)) {
            CHECK(earphone->simulated);
            CHECK(*earphone == earphoneOnPaper(demoScenario(), count++));
        }
    CHECK(count == demoScenario().earphones.size());
}

TEST_CASE("each preset is exactly what the library would write, under the name it would choose")
{
    for (const auto& item : Folder(files).list().items) {
        INFO(nameOf(item));
        CHECK(contentOfFile(files / fileNameOf(item)) == textOf(item));
    }
}

TEST_CASE("preset couplers have no reference, so that none shows dB SPL before its first")
{
    int couplers = 0;
    for (const auto& item : Folder(files).list().items) {
        const auto* coupler = std::get_if<Coupler>(&item);
        if (!coupler)
            continue;
        ++couplers;
        CHECK(coupler->references.empty());
        CHECK_FALSE(coupler->correction);
        CHECK(coupler->slot == 0);
    }
    CHECK(couplers == 4);
}

TEST_CASE("preset calibrators claim no certificate")
{
    for (const auto& item : Folder(files).list().items)
        if (const auto* calibrator = std::get_if<Calibrator>(&item)) {
            CHECK(calibrator->certificate.empty());
            CHECK(calibrator->calibratorClass);
            for (const auto& tone : calibrator->tones)
                CHECK_FALSE(tone.U_dB);
        }
}
