// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <utility>

// Purpose: an open file that closes itself, and the few calls on it that the library needs, each checked.
// Errors:  a fault's sentence is only the operating system's reason ("No space left on device"); who calls says what
//          was being done, where, and the mend.
// Source:  POSIX.1-2017 open, read, write, fsync, close; that a name is as lasting as the folder it stands in was
//          synced: Linux's fsync(2).
// Thread:  any but audio.
namespace couplet {

class Descriptor
{
public:
    explicit Descriptor(int d = -1) : number(d) {}
    Descriptor(Descriptor&& other) noexcept : number(std::exchange(other.number, -1)) {}
    Descriptor& operator=(Descriptor&&) = delete;
    ~Descriptor();

    static Outcome<Descriptor> open(const std::filesystem::path&, int flags, unsigned mode = 0666);

    int get() const { return number; }

    Outcome<Done> writeAll(std::string_view) const;
    Outcome<std::string> readAll(std::size_t most) const; // at most `most` + 1 bytes, so that a caller sees more
    Outcome<Done> sync() const;
    Outcome<Done> close(); // checked: on some file systems a failed write shows only here

private:
    int number;
};

// The operating system's words for errno.
Fault reasonOf(int error);

// The whole of a regular file; a folder, a pipe or a device is a fault, and so is more than `most` bytes.
Outcome<std::string> contentOf(const std::filesystem::path&, std::size_t most);

// Makes renames and new names in a folder last through a power cut.
Outcome<Done> syncFolder(const std::filesystem::path&);

// Makes a folder that may be there already, and those above it that are missing, and makes their names last through a
// power cut: also the name of the lowest one that was there, for whoever made it may have been stopped before that.
Outcome<Done> makeFolders(const std::filesystem::path&);

} // namespace couplet
