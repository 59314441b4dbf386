// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FolderLock.h"

#include "Library/Utf8.h"

#include <fmt/format.h>

#include <cerrno>
#include <fcntl.h>
#include <sys/file.h>
#include <thread>

namespace couplet {

Outcome<FolderLock> FolderLock::take(const std::filesystem::path& folder, std::chrono::milliseconds longestWait)
{
    using namespace std::chrono_literals;
    const auto place = inQuotes((folder / ".lock").string());
    auto file = Descriptor::open(folder / ".lock", O_RDWR | O_CREAT);
    if (!file)
        return Fault{fmt::format("{} could not be opened ({}); give write permission there or choose another library "
                                 "folder",
                                 place, file.fault().sentence)};
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
