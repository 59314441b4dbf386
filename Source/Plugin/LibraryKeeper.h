// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/WatchedFolder.h"

#include <atomic>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <thread>

// Purpose: the library's folder, watched from a thread of its own for all instances of a process together (take it by
//          juce::SharedResourcePointer<LibraryKeeper>): what another program changes there is seen within a second,
//          what is done through it at once. Nothing here waits on the message thread for a disk.
// Errors:  of the files: in the listing.
// Thread:  any but audio, but not from within a piece of work; ending it waits until all that was asked for is done.
namespace couplet {

class LibraryKeeper
{
public:
    LibraryKeeper();
    ~LibraryKeeper();
    LibraryKeeper(const LibraryKeeper&) = delete;
    LibraryKeeper& operator=(const LibraryKeeper&) = delete;

    using Listing = std::shared_ptr<const Folder::Listing>;

    // Null while the folder was not read yet.
    Listing latest() const;
    // Another number with every other listing; to be asked often.
    std::uint64_t revision() const { return listings.load(std::memory_order_acquire); }
    // Looks at the folder on the caller's thread: for who cannot go on without.
    Listing readNow();
    // On the keeper's thread, in the order of asking; the folder is looked at again after it.
    void post(std::function<void(const Folder&)> work);

    const Folder& folder() const { return library; }

private:
    void run();
    void look();

    const Folder library;
    std::mutex diskMutex; // one looks at a time; of the next
    WatchedFolder watched;
    mutable std::mutex mutex; // of the next four
    std::condition_variable asked;
    std::deque<std::function<void(const Folder&)>> work;
    Listing listing;
    bool ends = false;
    std::atomic<std::uint64_t> listings{0};
    std::thread thread; // last: it begins when all else is there
};

} // namespace couplet
