// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FileName.h"
#include "Library/FolderLock.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <csignal>
#include <iterator>
#include <sys/resource.h>

using namespace couplet;
using namespace couplet::tests;

namespace fs = std::filesystem;

namespace {

// As a full disk does, a limit on the size of files makes writing fail in the middle of a file.
class FullDisk
{
public:
    explicit FullDisk(rlim_t bytes)
    {
        ::getrlimit(RLIMIT_FSIZE, &before);
        previous = std::signal(SIGXFSZ, SIG_IGN);
        rlimit limit = before;
        limit.rlim_cur = bytes;
        ::setrlimit(RLIMIT_FSIZE, &limit);
    }
    ~FullDisk()
    {
        ::setrlimit(RLIMIT_FSIZE, &before);
        std::signal(SIGXFSZ, previous);
    }

private:
    rlimit before = {};
    void (*previous)(int) = nullptr;
};

std::size_t countOf(const fs::path& folder)
{
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

} // namespace

TEST_CASE("a disk that fills while saving leaves the item before and nothing else")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto before = fullCoupler("c");
    REQUIRE(folder.save(before));
    const auto files = countOf(scratch.path);
    auto after = before;
    after.serial = "another";
    {
        const FullDisk full(100);
        const auto saved = folder.save(after);
        REQUIRE_FALSE(saved);
        CHECK(saved.fault().sentence == "coupler 'c' was not saved: '" + (scratch.path / fileNameOf(before)).string() +
                                            "' could not be written (File too large), so what was there "
                                            "before is unchanged; make room or give "
                                            "write permission there, or choose another place");
    }
    CHECK(*folder.coupler("c") == before);
    CHECK(countOf(scratch.path) == files);
    CHECK(folder.save(after));
    CHECK(*folder.coupler("c") == after);
}

TEST_CASE("a disk that fills while a reading is kept leaves the readings before whole")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    REQUIRE(folder.appendReading(R"({"level_db": 93.97})"));
    {
        const FullDisk full(30);
        const auto kept = folder.appendReading(R"({"level_db": 94.01, "note": "longer than what is left"})");
        REQUIRE_FALSE(kept);
        CHECK(kept.fault().sentence == "the reading was not kept: '" + (scratch.path / "readings.jsonl").string() +
                                           "' could not be written (File too large); make room or give write "
                                           "permission there");
    }
    CHECK(contentOfFile(scratch.path / "readings.jsonl") == "{\"level_db\": 93.97}\n");
}

TEST_CASE("a folder that cannot be is a fault that names it")
{
    const Scratch scratch;
    writeContent(scratch.path / "file", "");
    const Folder folder(scratch.path / "file" / "library");
    CHECK(folder.save(fullEarphone("e")).fault().sentence ==
          "earphone 'e' was not saved: the library's folder '" + folder.path().string() +
              "' could not be made (Not a directory); choose another with --library");
    CHECK_FALSE(folder.appendReading("{}"));
    const Folder onFile(scratch.path / "file");
    CHECK(onFile.list().unreadable.size() == 1);
}

TEST_CASE("a file is replaced whole, with its permissions, through a link, and without a backup if so wished")
{
    const Scratch scratch;
    const auto file = scratch.path / "report.html", link = scratch.path / "link";
    REQUIRE(replaceFile(file, "one", false));
    fs::permissions(file, fs::perms::owner_read | fs::perms::owner_write);
    fs::create_symlink(file, link);
    REQUIRE(replaceFile(link, "two", false));
    CHECK(fs::is_symlink(link));
    CHECK(contentOfFile(file) == "two");
    CHECK(fs::status(file).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
    CHECK(countOf(scratch.path) == 2);
    REQUIRE(replaceFile(file, "three", true));
    CHECK(contentOfFile(file.string() + ".bak") == "two");
    CHECK_FALSE(replaceFile(scratch.path, "no file", true));
    CHECK_FALSE(replaceFile("/dev/null", "no file either", true));
    CHECK_FALSE(replaceFile(scratch.path / "no folder" / "x", "", true));
}

TEST_CASE("a backup left beside by a crash does not keep a file from being replaced")
{
    const Scratch scratch;
    const auto file = scratch.path / "a";
    writeContent(file, "one");
    fs::create_hard_link(file, file.string() + ".bak"); // as after the backup's rename and before the file's
    REQUIRE(replaceFile(file, "two", true));
    CHECK(contentOfFile(file) == "two");
    CHECK(contentOfFile(file.string() + ".bak") == "one");
    CHECK(countOf(scratch.path) == 2);
}

TEST_CASE("a line torn by a crash is closed before the next reading")
{
    const Scratch scratch;
    const Folder folder(scratch.path);
    const auto file = scratch.path / "readings.jsonl";
    writeContent(file, "{\"a\": 1}\n{\"b\": ");
    REQUIRE(folder.appendReading(R"({"c": 3})"));
    REQUIRE(folder.appendReading(R"({"d": 4})"));
    CHECK(contentOfFile(file) == "{\"a\": 1}\n{\"b\": \n{\"c\": 3}\n{\"d\": 4}\n");
    CHECK_FALSE(folder.appendReading("{\"two\":\n1}"));
    CHECK_FALSE(folder.appendReading("{\"torn\": "));
    CHECK(contentOfFile(file).ends_with("{\"d\": 4}\n"));
}

TEST_CASE("a folder held by another program is a fault and not an endless wait")
{
    const Scratch scratch;
    const auto held = FolderLock::take(scratch.path);
    REQUIRE(held);
    CHECK(FolderLock::take(scratch.path, std::chrono::milliseconds{50}).fault().sentence ==
          fmt::format("'{}' has been held by another program for 0.05 s; close that program and try again",
                      (scratch.path / ".lock").string()));
}
