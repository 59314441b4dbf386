// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <cstddef>
#include <string>
#include <vector>

// Purpose: the versions that a library keeps of each item from before its changes (VersionStore.h): which there are,
//          and one of them put back.
// Errors:  one sentence; nothing was written then.
// Thread:  any but audio (putting back waits for the folder's lock).
namespace couplet {

struct Version
{
    int number = 0;     // its own for good: newer ones have greater numbers
    std::string until;  // when it was replaced, UTC: "2026-05-03T12:04:11Z"
    std::string change; // what was changed then: "correction 1.44 → 1.52 dB", "removed"
    Item item;          // as it was
};

struct Versions
{
    std::string kind, name;
    bool isRemoved = false;        // the item itself is not there any more
    std::vector<Version> list;     // newest first; empty: nothing was overwritten yet
    std::vector<Fault> unreadable; // a sentence for each that could not be read
};

// Of an item that is there, or of a removed one by the name that it had. `nameAndKind` as Folder has it.
Outcome<Versions> versionsOf(const Folder&, const std::string& nameAndKind);

struct VersionPutBack
{
    Item before;             // as it stood, or as the version has it when the item was removed
    Item now;                // as it stands
    bool wasRemoved = false; // it was not there
    bool isChanged = false;  // else it stood so already
    std::size_t stayed = 0;  // references that the version lacks and the item keeps
};

// The item becomes what it was in that version; as it stands now becomes a version itself. Its name stays, for by that
// others know it, and so do its references: those that the version lacks join it. Refused: a number that there is not,
// a slot that another coupler has by now, a version that cannot be read.
Outcome<VersionPutBack> putBackVersion(const Folder&, const std::string& nameAndKind, int number);

} // namespace couplet
