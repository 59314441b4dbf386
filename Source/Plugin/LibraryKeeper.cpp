// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LibraryKeeper.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <sys/stat.h>
#include <utility>
#include <vector>

namespace couplet {
namespace {

constexpr std::chrono::milliseconds beat{800}; // a change elsewhere is seen within a second

// When a file's last change is this near, another may follow within the same tick of the file system's clock.
constexpr std::int64_t settled_ns = 2'000'000'000;

std::int64_t nanosecondsOf(const timespec& time)
{
    return static_cast<std::int64_t>(time.tv_sec) * 1'000'000'000 + time.tv_nsec;
}

bool isSame(const Folder::Listing& a, const Folder::Listing& b)
{
    const auto sameFault = [](const Fault& x, const Fault& y) { return x.sentence == y.sentence; };
    return a.items == b.items &&
           std::equal(a.unreadable.begin(), a.unreadable.end(), b.unreadable.begin(), b.unreadable.end(), sameFault);
}

} // namespace

// Names, sizes and times of change alone: reading a thousand profiles every second would be felt. Empty: not settled.
std::string LibraryKeeper::outsideOf(const std::filesystem::path& root)
{
    namespace fs = std::filesystem;
    timespec now = {};
    ::clock_gettime(CLOCK_REALTIME, &now);
    std::vector<std::string> files;
    std::error_code error;
    for (fs::directory_iterator i(root, error), end; !error && i != end; i.increment(error)) {
        struct stat status = {};
        if (i->path().extension() != ".json" || ::stat(i->path().c_str(), &status) != 0)
            continue;
        const auto changed_ns = nanosecondsOf(status.st_ctim);
        if (nanosecondsOf(now) - changed_ns < settled_ns)
            return {};
        files.push_back(
            fmt::format("{}/{}/{}/{}", i->path().filename().string(), status.st_ino, status.st_size, changed_ns));
    }
    std::sort(files.begin(), files.end());
    return fmt::format("{} {}\n{}", error.value(), files.size(), fmt::join(files, "\n"));
}

LibraryKeeper::LibraryKeeper() : library(Folder::defaultPath()), thread([this] { run(); }) {}

LibraryKeeper::~LibraryKeeper()
{
    {
        const std::lock_guard lock(mutex);
        ends = true;
    }
    asked.notify_one();
    thread.join();
}

LibraryKeeper::Listing LibraryKeeper::latest() const
{
    const std::lock_guard lock(mutex);
    return listing;
}

LibraryKeeper::Listing LibraryKeeper::readNow()
{
    look();
    return latest();
}

void LibraryKeeper::post(std::function<void(const Folder&)> piece)
{
    {
        const std::lock_guard lock(mutex);
        work.push_back(std::move(piece));
    }
    asked.notify_one();
}

// A listing that says the same is none: nobody need look at it.
void LibraryKeeper::look()
{
    const std::lock_guard onlyOne(diskMutex);
    auto seen = outsideOf(library.path());
    if (!seen.empty() && seen == outside)
        return;
    outside = std::move(seen);
    auto next = std::make_shared<const Folder::Listing>(library.list());
    const auto before = latest();
    if (before != nullptr && isSame(*before, *next))
        return;
    const std::lock_guard lock(mutex);
    listing = std::move(next);
    listings.fetch_add(1, std::memory_order_release);
}

void LibraryKeeper::run()
{
    std::unique_lock lock(mutex);
    while (!ends || !work.empty()) {
        auto next = std::exchange(work, {});
        lock.unlock();
        for (const auto& piece : next)
            piece(library);
        next.clear(); // what it holds ends here, and not under the lock
        look();
        lock.lock();
        asked.wait_for(lock, beat, [this] { return ends || !work.empty(); });
    }
}

} // namespace couplet
