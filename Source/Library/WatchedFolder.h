// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <cstdint>
#include <map>
#include <optional>
#include <utility>

// Purpose: a library's folder as it is now, for those who show it: only files that changed since the last look are
//          read again, so that a large library can be looked at every second.
// Rules:   a file is the same when its device, inode, size and both its times are; but while its last change is less
//          than 2 s old it is read all the same, for a clock may tick too coarsely to tell two changes apart.
// Errors:  in the listing, as `Folder::list` has them.
// Thread:  any but audio, one at a time.
namespace couplet {

class WatchedFolder
{
public:
    explicit WatchedFolder(Folder f) : folder(std::move(f)) {}

    // True when something changed since the last call; true on the first call.
    bool refresh();

    // As of the last refresh; empty before the first.
    const Folder::Listing& listing() const { return shown; }

    std::size_t filesReadLast() const { return filesRead; } // in the last refresh

private:
    using Instant = std::pair<std::int64_t, std::int64_t>; // s, ns
    struct Stamp
    {
        std::uint64_t device = 0, inode = 0;
        std::int64_t size_bytes = -1; // the file is not there
        Instant written, changed;

        bool operator==(const Stamp&) const = default;
    };
    struct Seen
    {
        Stamp stamp;
        bool isSettled = false;
        std::optional<Outcome<Item>> item;                          // absent: it went away while it was read
        std::vector<std::pair<std::filesystem::path, Stamp>> older; // the files of its history
        std::vector<Fault> faults;                                  // in them
    };

    Folder folder;
    std::map<std::filesystem::path, Seen> files;
    Folder::Listing shown;
    std::optional<Fault> folderFault;
    bool isFirst = true;
    std::size_t filesRead = 0;

    static Stamp stampOf(const std::filesystem::path&);
    static bool isSettled(const Stamp&);
    static bool areSame(const Seen&);
    bool look(const std::filesystem::path&);
    Folder::Listing listed() const;
};

} // namespace couplet
