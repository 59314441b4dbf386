// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LiveFile.h"

#include "Library/Descriptor.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <cerrno>
#include <charconv>
#include <climits>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fcntl.h>
#include <mutex>
#include <set>
#include <string>
#include <sys/stat.h>
#include <unistd.h>

namespace couplet {
namespace {

namespace fs = std::filesystem;

std::mutex numbersMutex;
std::set<int> numbersInUse;

int lowestFreeNumber()
{
    const std::lock_guard lock(numbersMutex);
    int number = 1;
    while (numbersInUse.count(number) > 0)
        ++number;
    numbersInUse.insert(number);
    return number;
}

fs::path numbered(fs::path path, int number)
{
    if (number > 1)
        path += fmt::format(".{}", number);
    return path;
}

// What stands where the file is to be: why it must not be replaced, if so.
std::optional<Fault> objectionTo(const struct stat& status)
{
    if (S_ISDIR(status.st_mode))
        return Fault{"it is a folder"};
    if (!S_ISREG(status.st_mode))
        return Fault{"it is a device, a pipe or a socket"};
    if (status.st_uid != ::geteuid())
        return Fault{"it belongs to another user"};
    return std::nullopt;
}

constexpr std::string_view front = ".couplet-live-", end = ".tmp";

std::string temporaryName(int number)
{
    return fmt::format("{}{}-{}{}", front, ::getpid(), number, end);
}

// Its folder stays open, so that whatever is renamed on the way there, one place is meant.
struct Place
{
    Descriptor folder;
    std::string name;
    std::optional<struct stat> there; // absent: nothing
};

Outcome<Place> placeIn(const fs::path& path)
{
    if (!path.has_filename())
        return Fault{"it is a folder"};
    const auto parent = path.has_parent_path() ? path.parent_path() : fs::path(".");
    auto folder = Descriptor::open(parent, O_RDONLY | O_DIRECTORY);
    if (!folder)
        return folder.fault();
    return Place{*std::move(folder), path.filename().string(), std::nullopt};
}

// Links are followed by the system, with its own guards against those of others in a folder for all; what they lead to
// is held while it is looked at. O_PATH opens nothing: neither a pipe nor a device notices. Where a link leads to nothing,
// the system makes the file.
Outcome<Descriptor> heldAt(const fs::path& path)
{
    auto held = Descriptor::open(path, O_PATH);
    std::error_code error;
    if (held || !fs::is_symlink(fs::symlink_status(path, error)))
        return held;
    if (const auto made = Descriptor::open(path, O_WRONLY | O_CREAT | O_NONBLOCK | O_NOCTTY); !made)
        return made.fault();
    return Descriptor::open(path, O_PATH);
}

Outcome<Place> placeOf(const fs::path& path)
{
    const auto held = heldAt(path);
    std::error_code error;
    if (!held && fs::is_symlink(fs::symlink_status(path, error)))
        return held.fault();
    if (!held) // there is nothing, or no way there, which the folder will say
        return placeIn(path);
    struct stat status = {};
    if (::fstat(held->get(), &status) != 0)
        return reasonOf(errno);
    if (const auto objection = objectionTo(status))
        return *objection;
    const auto real = fs::read_symlink(fmt::format("/proc/self/fd/{}", held->get()), error);
    if (error)
        return reasonOf(error.value());
    auto place = placeIn(real);
    struct stat named = {};
    if (place && (::fstatat(place->folder.get(), place->name.c_str(), &named, AT_SYMLINK_NOFOLLOW) != 0 ||
                  named.st_dev != status.st_dev || named.st_ino != status.st_ino))
        return Fault{"another program is changing it"};
    if (place)
        place->there = status;
    return place;
}

int exchange(const Place& place, const char* temporary, unsigned how)
{
    return ::renameat2(place.folder.get(), temporary, place.folder.get(), place.name.c_str(), how);
}

// Under its name at once, and never over something that came there meanwhile: where a file was, the two change places,
// and what was really there is looked at; what may not go comes back. File systems that cannot do so (EINVAL) get a
// rename after a last look.
Outcome<Done> putInPlace(const Place& place, const char* temporary)
{
    const int folder = place.folder.get();
    if (exchange(place, temporary, place.there ? RENAME_EXCHANGE : RENAME_NOREPLACE) == 0) {
        struct stat before = {};
        if (!place.there)
            return Done{};
        if (::fstatat(folder, temporary, &before, AT_SYMLINK_NOFOLLOW) != 0)
            return reasonOf(errno);
        if (const auto objection = objectionTo(before)) {
            exchange(place, temporary, RENAME_EXCHANGE);
            return *objection;
        }
        return Done{};
    }
    if (errno == ENOENT && exchange(place, temporary, RENAME_NOREPLACE) == 0) // it went away meanwhile
        return Done{};
    if (errno != EINVAL && errno != ENOSYS)
        return reasonOf(errno); // EEXIST: something came there meanwhile, and the next writing looks at it
    struct stat now = {};
    if (::fstatat(folder, place.name.c_str(), &now, AT_SYMLINK_NOFOLLOW) == 0)
        if (const auto objection = objectionTo(now))
            return *objection;
    return ::renameat(folder, temporary, folder, place.name.c_str()) == 0 ? Outcome<Done>(Done{}) : reasonOf(errno);
}

// Nothing but what may be replaced.
void takeAway(const Place& place, const char* name)
{
    struct stat status = {};
    if (::fstatat(place.folder.get(), name, &status, AT_SYMLINK_NOFOLLOW) == 0 && !objectionTo(status))
        ::unlinkat(place.folder.get(), name, 0);
}

Outcome<Done> writeAt(const Place& place, const char* temporary, std::string_view text)
{
    const int folder = place.folder.get();
    takeAway(place, temporary); // of a process of the same number that crashed
    Descriptor file(::openat(folder, temporary, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666));
    if (file.get() < 0)
        return reasonOf(errno);
    if (place.there && ::fchmod(file.get(), place.there->st_mode & 0777) != 0)
        return reasonOf(errno);
    if (const auto written = file.writeAll(text); !written)
        return written;
    if (const auto closed = file.close(); !closed)
        return closed;
    return putInPlace(place, temporary);
}

// The process that a temporary file is of.
std::optional<pid_t> writerOf(const std::string& name)
{
    if (!name.starts_with(front) || !name.ends_with(end))
        return std::nullopt;
    pid_t process = 0;
    const auto read = std::from_chars(name.data() + front.size(), name.data() + name.size(), process);
    return read.ec == std::errc() && *read.ptr == '-' && process > 0 ? std::optional(process) : std::nullopt;
}

// What processes left that were killed while they wrote, if it is this user's.
void sweep(const Place& place)
{
    std::error_code error;
    const auto folder = fmt::format("/proc/self/fd/{}", place.folder.get());
    for (fs::directory_iterator i(folder, error), last; !error && i != last; i.increment(error)) {
        const auto name = i->path().filename().string();
        const auto writer = writerOf(name);
        if (writer && ::kill(*writer, 0) != 0 && errno == ESRCH)
            takeAway(place, name.c_str());
    }
}

} // namespace

std::optional<fs::path> LiveFile::named()
{
    const char* name = std::getenv("COUPLET_LIVE"); // NOLINT(concurrency-mt-unsafe): nobody here sets it
    if (name == nullptr || *name == '\0')
        return {};
    return fs::path(name);
}

LiveFile::~LiveFile()
{
    const std::lock_guard lock(numbersMutex);
    numbersInUse.erase(number);
}

Outcome<Done> LiveFile::write(std::string_view text)
{
    if (number == 0) {
        number = lowestFreeNumber();
        file = numbered(file, number);
    }
    const auto place = placeOf(file);
    auto written = place ? Outcome<Done>(Done{}) : Outcome<Done>(place.fault());
    if (place) {
        if (!swept)
            sweep(*place);
        swept = true;
        const auto temporary = temporaryName(number);
        written = writeAt(*place, temporary.c_str(), text);
        takeAway(*place, temporary.c_str()); // what stood there before, or what failed
    }
    if (!written)
        return Fault{fmt::format("COUPLET_LIVE cannot write {} ({}). Name a file of your own, or a new one in a folder "
                                 "where you may write",
                                 inQuotes(file.string()), written.fault().sentence)};
    return Done{};
}

} // namespace couplet
