// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LibraryKeeper.h"

#include <chrono>
#include <utility>

namespace couplet {
namespace {

constexpr std::chrono::milliseconds beat{800}; // a change elsewhere is seen within a second

} // namespace

LibraryKeeper::LibraryKeeper() : library(Folder::defaultPath()), watched(library), thread([this] { run(); }) {}

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

void LibraryKeeper::look()
{
    const std::lock_guard onlyOne(diskMutex);
    if (!watched.refresh())
        return;
    auto next = std::make_shared<const Folder::Listing>(watched.listing());
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
