// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FolderLock.h"

#include "Library/SharedFolder.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <cerrno>
#include <charconv>
#include <csignal>
#include <fcntl.h>
#include <optional>
#include <string>
#include <sys/file.h>
#include <thread>
#include <vector>

namespace couplet {
namespace {

// The process that a name such as `.couplet-1234-0.tmp` is of.
std::optional<pid_t> writerOf(const std::string& name)
{
    constexpr std::string_view front = ".couplet-", end = ".tmp";
    if (!name.starts_with(front) || !name.ends_with(end))
        return std::nullopt;
    pid_t process = 0;
    const auto read = std::from_chars(name.data() + front.size(), name.data() + name.size(), process);
    if (read.ec != std::errc() || *read.ptr != '-' || process <= 0)
        return std::nullopt;
    return process;
}

// Another user's may be there to be read alone, which is enough for a lock but on a network's file systems.
Outcome<Descriptor> lockFileIn(const std::filesystem::path& folder)
{
    auto ours = Descriptor::open(folder / ".lock", O_RDWR | O_CREAT);
    if (!ours)
        if (auto readable = Descriptor::open(folder / ".lock", O_RDONLY); readable)
            return readable;
    return ours;
}

} // namespace

std::vector<std::filesystem::path> leftByTheDead(const std::filesystem::path& folder)
{
    namespace fs = std::filesystem;
    std::error_code error;
    std::vector<fs::path> left;
    for (fs::directory_iterator i(folder, error), end; !error && i != end; i.increment(error)) {
        const auto writer = writerOf(i->path().filename().string());
        if (writer && ::kill(*writer, 0) != 0 && errno == ESRCH)
            left.push_back(i->path());
    }
    return left;
}

void FolderLock::sweep(const std::filesystem::path& folder) const
{
    std::error_code error;
    for (const auto& path : leftByTheDead(folder))
        std::filesystem::remove(path, error); // where that cannot be, they stay: they are in nobody's way
}

Outcome<FolderLock> FolderLock::take(const std::filesystem::path& folder, std::chrono::milliseconds longestWait)
{
    using namespace std::chrono_literals;
    const auto place = inQuotes((folder / ".lock").string());
    auto file = lockFileIn(folder);
    if (!file)
        return Fault{fmt::format("{} could not be opened ({}); give write permission there or choose another library "
                                 "folder",
                                 place, file.fault().sentence)};
    shareAsItsFolder(*file, folder);
    const auto end = std::chrono::steady_clock::now() + longestWait;
    while (::flock(file->get(), LOCK_EX | LOCK_NB) != 0) {
        if (errno != EWOULDBLOCK && errno != EINTR)
            return Fault{fmt::format("{} could not be locked ({}); put the library on a file system with locks", place,
                                     reasonOf(errno).sentence)};
        if (std::chrono::steady_clock::now() > end)
            return Fault{fmt::format("{} has been held by another program for {} s; close that program and try again",
                                     place, std::chrono::duration<double>(longestWait).count())};
        std::this_thread::sleep_for(1ms);
    }
    return FolderLock(*std::move(file));
}

} // namespace couplet
