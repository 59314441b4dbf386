// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/FolderLock.h"
#include "Library/FolderScan.h"

#include <filesystem>
#include <optional>
#include <string>

// Purpose: what all that change a library's folder have in common.
// Thread:  any but audio (waits for the folder's lock).
namespace couplet {

// Makes the folder when it is missing.
Outcome<FolderLock> lockedFolder(const std::filesystem::path& root);

// Another coupler that has the slot of this one.
std::optional<std::string> holderOfSlot(const FolderContent&, const Coupler& wanted);

// As `Folder::save` does while the lock is held, in a folder of this content; the item is one that can be kept. What
// was replaced is replaced in the content too; what is new is not added to it.
Outcome<Done> saveInto(const std::filesystem::path& root, FolderContent&, const Item&);

// Two texts that make one another: what could not be read again must not be written.
Outcome<Done> canBeKept(const Item&);

// Renames a file over another, checked.
Outcome<Done> moveFile(const std::filesystem::path& from, const std::filesystem::path& to);

std::filesystem::path backupOf(const std::filesystem::path&);

} // namespace couplet
