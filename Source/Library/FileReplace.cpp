// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Descriptor.h"
#include "Library/Folder.h"
#include "Library/SharedFolder.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <atomic>
#include <cerrno>
#include <cstdio>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

// Invariants, at every moment and after a crash at any of them, of the program or of the whole machine:
//   1. the target's name stands for the whole old text or the whole new one, never for less, never for nothing;
//   2. the old text, if there was one and a backup is kept, is had under the target's name or under `.bak`;
//   3. what stands under the target's name has been written, synced and read back.
// A file system may forget what was not synced, each change by itself and in any order: POSIX promises none without
// fsync. So `.bak` has its name for good before the target's name is given to the new text.
namespace couplet {
namespace {

namespace fs = std::filesystem;

// A name beside the target that goes away unless it was renamed. Short, for the target's own name may be as
// long as the file system allows; unlike any other process's or thread's, by process and count.
class Sibling
{
public:
    explicit Sibling(const fs::path& target)
    {
        static std::atomic<unsigned> count{0};
        path = target.parent_path() / fmt::format(".couplet-{}-{}.tmp", ::getpid(), count++);
    }
    Sibling(const Sibling&) = delete;
    Sibling& operator=(const Sibling&) = delete;
    ~Sibling() { ::unlink(path.c_str()); }

    fs::path path;
};

// Absent where nothing is; where that cannot be told, nothing is to be written there.
Outcome<std::optional<mode_t>> modeOf(const fs::path& path)
{
    struct stat status = {};
    if (::stat(path.c_str(), &status) == 0)
        return std::optional<mode_t>(status.st_mode);
    return errno == ENOENT ? Outcome<std::optional<mode_t>>(std::optional<mode_t>()) : reasonOf(errno);
}

Outcome<Done> writeNew(const fs::path& path, std::string_view text, std::optional<mode_t> mode)
{
    ::unlink(path.c_str()); // left over from a process of the same number that crashed
    auto file = Descriptor::open(path, O_WRONLY | O_CREAT | O_EXCL);
    if (!file)
        return file.fault();
    if (mode && ::fchmod(file->get(), *mode & 0777) != 0)
        return reasonOf(errno);
    if (!mode)
        shareAsItsFolder(*file, path.parent_path());
    if (const auto written = file->writeAll(text); !written)
        return written;
    if (const auto synced = file->sync(); !synced)
        return synced;
    return file->close();
}

Outcome<Done> readBack(const fs::path& path, std::string_view text)
{
    const auto content = contentOf(path, text.size());
    if (!content)
        return content.fault();
    if (*content != text)
        return Fault{"what was read back is not what was written"};
    return Done{};
}

Outcome<Done> putInPlace(const fs::path& from, const fs::path& to)
{
    if (std::rename(from.c_str(), to.c_str()) != 0)
        return reasonOf(errno);
    return Done{};
}

// A second name for the old file, or a copy where the file system has no such thing; the target's own stays.
Outcome<Done> keepAsBackup(const fs::path& target, std::optional<mode_t> mode)
{
    const Sibling second(target);
    ::unlink(second.path.c_str());
    if (::link(target.c_str(), second.path.c_str()) != 0) {
        constexpr std::size_t anySize = std::size_t{1} << 30;
        const auto old = contentOf(target, anySize);
        if (!old)
            return old.fault();
        if (const auto copied = writeNew(second.path, *old, mode); !copied)
            return copied;
    }
    if (const auto kept = putInPlace(second.path, target.string() + ".bak"); !kept)
        return kept;
    return syncFolder(target.parent_path());
}

// A name that points elsewhere goes on pointing there.
Outcome<fs::path> fileBehind(const fs::path& target)
{
    std::error_code error;
    if (!fs::is_symlink(fs::symlink_status(target, error)))
        return target;
    auto file = fs::canonical(target, error);
    if (error)
        return reasonOf(error.value());
    return file;
}

Outcome<Done> replaceSafely(const fs::path& target, std::string_view text, bool keepBackup)
{
    const auto found = modeOf(target);
    if (!found)
        return found.fault();
    const auto mode = *found;
    if (mode && !S_ISREG(*mode))
        return Fault{"it is no regular file"};
    const Sibling sibling(target);
    if (const auto written = writeNew(sibling.path, text, mode); !written)
        return written;
    if (const auto same = readBack(sibling.path, text); !same)
        return same;
    keepGroup(sibling.path, target);
    if (keepBackup && mode)
        if (const auto kept = keepAsBackup(target, mode); !kept)
            return kept;
    return putInPlace(sibling.path, target);
}

} // namespace

Outcome<Done> replaceFile(const fs::path& target, std::string_view text, bool keepBackup)
{
    const auto file = fileBehind(target);
    const auto replaced = file ? replaceSafely(*file, text, keepBackup) : Outcome<Done>(file.fault());
    if (!replaced)
        return Fault{fmt::format("{} could not be written ({}), so what was there before is unchanged; make room or "
                                 "give write permission there, or choose another place",
                                 inQuotes(target.string()), replaced.fault().sentence)};
    if (const auto synced = syncFolder(file->parent_path()); !synced)
        return Fault{fmt::format("{} was written, but may not last through a power cut ({}); check the disk and save "
                                 "again",
                                 inQuotes(target.string()), synced.fault().sentence)};
    return Done{};
}

} // namespace couplet
