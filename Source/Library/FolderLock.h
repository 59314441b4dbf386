// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Descriptor.h"

#include <chrono>
#include <filesystem>
#include <vector>

// Purpose: one at a time at a library's folder, among threads and processes: `.lock` in it, held with flock, which
//          the system lets go of when a process ends, however it ends.
// Errors:  held by another for longer than one cares to wait, or no permission.
// Thread:  any but audio (waits).
namespace couplet {

class FolderLock
{
public:
    static Outcome<FolderLock> take(const std::filesystem::path& folder,
                                    std::chrono::milliseconds longestWait = std::chrono::seconds{5});

    // Takes away what saves of processes that are no more have left in the folder: while the lock is held, no other
    // save is going on.
    void sweep(const std::filesystem::path& folder) const;

private:
    explicit FolderLock(Descriptor d) : file(std::move(d)) {}

    Descriptor file; // closing it lets go
};

// Files and folders, beside others, that saves of processes that are no more left unfinished.
std::vector<std::filesystem::path> leftByTheDead(const std::filesystem::path& folder);

} // namespace couplet
