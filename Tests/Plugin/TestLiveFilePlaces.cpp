// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the live file replaces and what it leaves as it is, also when something comes there while it is written, and what
// a process leaves behind that is killed on the way.
#include "Library/Scratch.h"
#include "Library/Stepped.h"
#include "Plugin/LiveFile.h"

#include <catch2/catch.hpp>

#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

using namespace couplet;
using namespace couplet::tests;

namespace {

namespace fs = std::filesystem;

std::string refusalAt(const fs::path& file)
{
    LiveFile live(file);
    const auto written = live.write("new");
    return written ? std::string() : written.fault().sentence;
}

int filesIn(const fs::path& folder)
{
    return static_cast<int>(std::distance(fs::directory_iterator(folder), {}));
}

bool isPipe(const fs::path& file)
{
    return fs::symlink_status(file).type() == fs::file_type::fifo;
}

void makeSocket(const fs::path& file)
{
    sockaddr_un address = {};
    address.sun_family = AF_UNIX;
    file.string().copy(address.sun_path, sizeof address.sun_path - 1);
    const int socket = ::socket(AF_UNIX, SOCK_STREAM, 0);
    REQUIRE(::bind(socket, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0);
    ::close(socket);
}

} // namespace

TEST_CASE("the live file never replaces a folder, a pipe, a socket or a device, whatever link leads there")
{
    const Scratch scratch;
    fs::create_directory(scratch.path / "folder");
    REQUIRE(::mkfifo((scratch.path / "pipe").c_str(), 0600) == 0);
    makeSocket(scratch.path / "socket");
    for (const char* name : {"folder", "pipe", "socket"})
        fs::create_symlink(name, scratch.path / ("to " + std::string(name)));
    fs::create_symlink("/dev/null", scratch.path / "to device");
    fs::create_symlink("circle", scratch.path / "circle");
    const auto before = filesIn(scratch.path);
    for (const char* name : {"folder", "pipe", "socket", "to folder", "to pipe", "to socket", "to device", "circle"}) {
        const auto type = fs::symlink_status(scratch.path / name).type();
        const auto refusal = refusalAt(scratch.path / name);
        CAPTURE(name, refusal);
        CHECK(refusal.starts_with("COUPLET_LIVE cannot write '"));
        CHECK(refusal.find(name) != std::string::npos);
        CHECK(refusal.find("Name a file") != std::string::npos);
        CHECK(fs::symlink_status(scratch.path / name).type() == type);
    }
    CHECK(filesIn(scratch.path) == before);
    CHECK(fs::is_character_file("/dev/null"));
    CHECK(refusalAt(scratch.path / "nowhere" / "live.json").find("No such file") != std::string::npos);
    CHECK(!refusalAt(scratch.path / "new folder" / "").empty());
}

TEST_CASE("the live file is written where a link leads, and the link stays")
{
    const Scratch scratch;
    fs::create_directories(scratch.path / "far away");
    const auto real = scratch.path / "far away" / "live.json";
    for (const bool isThere : {true, false}) { // at first, the link leads to nothing
        if (isThere)
            writeContent(real, "old");
        else
            fs::remove(real);
        const auto link = scratch.path / "live.json", another = scratch.path / "another";
        fs::remove(link);
        fs::remove(another);
        fs::create_symlink("far away/live.json", link);
        fs::create_symlink(link, another);
        CHECK(refusalAt(another) == "");
        CHECK(contentOfFile(real) == "new");
        CHECK(fs::is_symlink(link));
        CHECK(fs::is_symlink(another));
        CHECK(filesIn(scratch.path / "far away") == 1);
        CHECK(filesIn(scratch.path) == 3);
    }
}

TEST_CASE("the live file keeps the mode of the file it replaces")
{
    const Scratch scratch;
    const auto file = scratch.path / "live.json";
    writeContent(file, "old");
    fs::permissions(file, fs::perms(0640));
    CHECK(refusalAt(file) == "");
    CHECK(fs::status(file).permissions() == fs::perms(0640));
}

TEST_CASE("the live file never replaces another user's file")
{
    if (::geteuid() != 0) {
        WARN("left out: only root can make another user's file");
        return;
    }
    constexpr uid_t another = 54321;
    const Scratch scratch;
    const auto file = scratch.path / "live.json", link = scratch.path / "link";
    writeContent(file, "old");
    REQUIRE(::chown(file.c_str(), another, another) == 0);
    fs::create_symlink(file, link);
    for (const auto& name : {file, link})
        CHECK(refusalAt(name).find("belongs to another user") != std::string::npos);
    CHECK(contentOfFile(file) == "old");
    CHECK(filesIn(scratch.path) == 2);
}

TEST_CASE("what comes in the live file's place while it is written stays as it is, at every step")
{
    if (!canStep()) {
        WARN("left out: another program's calls cannot be stepped through here");
        return;
    }
    int calls = 1;
    for (int at = 1; at <= calls; ++at)
        for (const bool isThere : {true, false}) {
            const Scratch scratch;
            const auto file = scratch.path / "live.json", pipe = scratch.path / "pipe";
            if (isThere)
                writeContent(file, "old");
            REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
            const auto end = stepped([&] { return refusalAt(file); },
                                     [&](int call) {
                                         if (call == at)
                                             fs::rename(pipe, file);
                                         return Fate{};
                                     });
            calls = std::max(calls, end.calls);
            CAPTURE(at, isThere, end.answer);
            CHECK((isPipe(file) || isPipe(pipe)));
            CHECK(filesIn(scratch.path) == (isPipe(pipe) ? 2 : 1)); // and nothing lies beside it
        }
    CHECK(calls >= 8);
}

TEST_CASE("a process killed while it writes the live file leaves nothing that the next one does not take away")
{
    if (!canStep()) {
        WARN("left out: another program's calls cannot be stepped through here");
        return;
    }
    int left = 0;
    for (const bool isThere : {true, false})
        for (int at = 1;; ++at) {
            const Scratch scratch;
            const auto file = scratch.path / "live.json";
            if (isThere)
                writeContent(file, "old");
            writeContent(scratch.path / ".couplet-live-notes.tmp", "a person's own");
            const auto end = stepped([&] { return refusalAt(file); },
                                     [&](int call) { return Fate{call == at ? Fate::Kind::kill : Fate::Kind::goOn}; });
            if (!end.killed)
                break;
            left += filesIn(scratch.path) - 1 - fs::exists(file);
            if (isThere || fs::exists(file)) {
                const auto text = contentOfFile(file);
                CAPTURE(at, end.last);
                CHECK((text == "old" || text == "new"));
            }
            CHECK(refusalAt(file) == "");
            CHECK(contentOfFile(file) == "new");
            CHECK(filesIn(scratch.path) == 2);
        }
    CHECK(left > 0); // else nothing was tried
}
