// SPDX-License-Identifier: GPL-3.0-or-later
//
// A library that users of a group share. Each user is a process of its own with the numbers of that user, as only root can
// make it.
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>
#include <grp.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace couplet;
using namespace couplet::tests;

namespace {

namespace fs = std::filesystem;

constexpr gid_t sharing = 54300;

// What `work` answers as that user with the usual umask of 022, whose own group no other has.
std::string asUser(uid_t user, const std::function<Outcome<Done>(const Folder&)>& work, const fs::path& path)
{
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    const auto child = ::fork();
    if (child == 0) {
        ::umask(022);
        const gid_t groups[] = {sharing};
        std::string said = "could not become that user";
        if (::setgroups(1, groups) == 0 && ::setgid(user) == 0 && ::setuid(user) == 0) {
            const auto done = work(Folder(path));
            said = done ? "done" : done.fault().sentence;
        }
        const auto told = ::write(ends[1], said.data(), said.size());
        ::_exit(told > 0 ? 0 : 1);
    }
    ::close(ends[1]);
    std::string answer(4096, '\0');
    const auto got = ::read(ends[0], answer.data(), answer.size());
    answer.resize(got > 0 ? static_cast<std::size_t>(got) : 0);
    ::close(ends[0]);
    ::waitpid(child, nullptr, 0);
    return answer;
}

struct stat statusOf(const fs::path& file)
{
    struct stat status = {};
    REQUIRE(::lstat(file.c_str(), &status) == 0);
    return status;
}

Outcome<Done> addReference(const Folder& folder, double offset_dB)
{
    auto coupler = folder.coupler("shared");
    if (!coupler)
        return coupler.fault();
    coupler->references.push_back(referenceAt("2026-05-03T12:04:11Z", offset_dB));
    return folder.save(*coupler);
}

Outcome<Done> use(const Folder& folder, const std::string& own, double offset_dB)
{
    if (auto saved = folder.save(fullEarphone(own)); !saved)
        return saved;
    if (auto kept = folder.appendReading(R"({"of": ")" + own + R"("})"); !kept)
        return kept;
    return addReference(folder, offset_dB);
}

bool isRoot()
{
    if (::geteuid() == 0)
        return true;
    WARN("left out: only root can be two users");
    return false;
}

// With the set-group-id bit the system gives new files the folder's group; without it, that is for us to do.
void makeShared(const fs::path& folder, mode_t mode)
{
    REQUIRE(::chmod(folder.parent_path().c_str(), 0755) == 0);
    REQUIRE(::chown(folder.c_str(), 0, sharing) == 0);
    REQUIRE(::chmod(folder.c_str(), mode) == 0);
}

} // namespace

TEST_CASE("two users of a group share a library, whatever their umask")
{
    if (!isRoot())
        return;
    for (const mode_t mode : {02775u, 02770u, 0770u}) {
        const Scratch scratch;
        makeShared(scratch.path, mode);
        Coupler shared;
        shared.name = "shared";
        CAPTURE(mode);
        CHECK(asUser(
                  54321, [&](const Folder& f) { return f.save(shared); }, scratch.path) == "done");
        for (const uid_t user : {54321u, 54322u, 54321u, 54323u})
            CHECK(asUser(
                      user, [&](const Folder& f) { return use(f, "of " + std::to_string(user), user); },
                      scratch.path) == "done");
        const auto coupler = Folder(scratch.path).coupler("shared");
        REQUIRE(coupler);
        CHECK(coupler->references.size() == 4);
        const auto readings = contentOfFile(scratch.path / "readings.jsonl");
        CHECK(std::count(readings.begin(), readings.end(), '\n') == 4);
        for (const auto& entry : fs::recursive_directory_iterator(scratch.path)) { // versions too
            const auto status = statusOf(entry.path());
            CAPTURE(entry.path().filename());
            CHECK(status.st_gid == sharing);
            CHECK((status.st_mode & (S_IRGRP | S_IWGRP)) == (S_IRGRP | S_IWGRP));
            CHECK(((status.st_mode & S_IXGRP) != 0) == entry.is_directory());
        }
    }
}

TEST_CASE("a library that another user began with a narrow umask goes on for the group")
{
    if (!isRoot())
        return;
    const Scratch scratch;
    makeShared(scratch.path, 02775);
    // As an older Couplet left it: files that their owner alone may write.
    Coupler shared;
    shared.name = "shared";
    writeContent(scratch.path / "coupler-shared.json", textOf(shared));
    writeContent(scratch.path / "readings.jsonl", "{\"old\": 1}\n{\"torn");
    writeContent(scratch.path / ".lock", "");
    for (const auto& entry : fs::directory_iterator(scratch.path)) {
        REQUIRE(::chown(entry.path().c_str(), 54321, sharing) == 0);
        REQUIRE(::chmod(entry.path().c_str(), 0644) == 0);
    }
    for (const uid_t user : {54322u, 54321u})
        CHECK(asUser(
                  user, [&](const Folder& f) { return use(f, "of " + std::to_string(user), user); }, scratch.path) ==
              "done");
    CHECK(Folder(scratch.path).coupler("shared")->references.size() == 2);
    CHECK(contentOfFile(scratch.path / "readings.jsonl") ==
          "{\"old\": 1}\n{\"torn\n{\"of\": \"of 54322\"}\n{\"of\": \"of 54321\"}\n");
    CHECK(statusOf(scratch.path / "coupler-shared.json").st_gid == sharing);
}

TEST_CASE("a file that was made private stays private, and a library of one user's own is no group's")
{
    if (!isRoot())
        return;
    const Scratch scratch;
    makeShared(scratch.path, 02775);
    Coupler shared;
    shared.name = "shared";
    writeContent(scratch.path / "coupler-shared.json", textOf(shared));
    REQUIRE(::chown((scratch.path / "coupler-shared.json").c_str(), 54321, sharing) == 0);
    REQUIRE(::chmod((scratch.path / "coupler-shared.json").c_str(), 0600) == 0);
    CHECK(asUser(
              54321, [&](const Folder& f) { return addReference(f, 1.0); }, scratch.path) == "done");
    CHECK((statusOf(scratch.path / "coupler-shared.json").st_mode & 0777) == 0600);

    const Scratch own;
    REQUIRE(::chown(own.path.c_str(), 54321, 54321) == 0);
    REQUIRE(::chmod(own.path.parent_path().c_str(), 0755) == 0);
    REQUIRE(::chmod(own.path.c_str(), 0755) == 0);
    CHECK(asUser(
              54321, [&](const Folder& f) { return f.save(shared); }, own.path) == "done");
    for (const auto& entry : fs::directory_iterator(own.path))
        CHECK((statusOf(entry.path()).st_mode & 0777) == 0644);
    CHECK(asUser(
              54322, [&](const Folder& f) { return addReference(f, 1.0); }, own.path)
              .find("was not saved") != std::string::npos);
}

TEST_CASE("a library begun in a group's folder is the group's")
{
    if (!isRoot())
        return;
    const Scratch scratch;
    makeShared(scratch.path, 02775);
    const auto path = scratch.path / "library";
    Coupler shared;
    shared.name = "shared";
    CHECK(asUser(
              54321, [&](const Folder& f) { return f.save(shared); }, path) == "done");
    CHECK((statusOf(path).st_mode & 07777) == 02775);
    CHECK(asUser(
              54322, [&](const Folder& f) { return use(f, "another", 1.0); }, path) == "done");
}
