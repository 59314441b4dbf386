// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Descriptor.h"

#include <filesystem>

// Purpose: a library that a group of users shares: whoever writes there, the others can go on, whatever the writer's
//          umask is. Such a folder may be written by its group (mode 2775 or 2770 and a group of its own, as an
//          administrator makes it).
// Rules:   a new file in it gets the folder's group and the folder's permissions for it, to read and to write; other
//          folders' files are as the umask has them. A file that takes another's place keeps that one's mode and group.
// Errors:  what the system does not allow (a group that one is not in) stays as it is: nothing depends on it but what
//          others may do.
// Source:  POSIX.1-2017 fchown, fchmod, umask; a folder with the set-group-id bit gives its files its group (inode(7) of
//          Linux).
// Thread:  any but audio.
namespace couplet {

// A file that was just made in `folder`.
void shareAsItsFolder(const Descriptor&, const std::filesystem::path& folder);

// `fresh` will take the place of `before`, if that is there, and gets its group.
void keepGroup(const std::filesystem::path& fresh, const std::filesystem::path& before);

// A folder that was just made: as the one around it, if that one hands on its group.
void shareFolderAsParent(const std::filesystem::path& folder);

} // namespace couplet
