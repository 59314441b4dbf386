// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <sys/types.h>

struct user_regs_struct;

// Purpose: what a call to the system does to files, as it was made by another process that is held at it.
// Errors:  a call that changes files in a way that is not told here is thrown as a std::runtime_error, so that nothing
//          of a save goes unseen.
// Source:  Linux's system calls on x86-64, their section 2 manual pages.
namespace couplet::tests {

struct FileCall
{
    enum class Kind { open, write, cut, sync, close, rename, link, unlink, removeFolder, makeFolder } kind = Kind::open;
    int file = -1;           // the descriptor, where one is given
    std::string path, other; // absolute; `other`: the new name
    int flags = 0;           // of open
    std::string bytes;       // of a write
    std::optional<long> at;  // of a write with a place of its own, and the size of a cut
    long result = 0;         // below 0: it failed, and nothing was done
};

// The call at whose entry the process is held; absent: one that changes no file.
std::optional<FileCall> fileCallAt(pid_t, const user_regs_struct&);

} // namespace couplet::tests
