// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/FolderScan.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

// Purpose: the texts that a library's items had before: `.versions/<item>/<number>-<time>-<mark>.json` in its folder,
//          one file a version, a second name (link) of the old text or a copy of it, synced before the old text goes.
// Rules:   * A version is kept before a change that overwrites something. A change that only adds references overwrites
//            nothing: references are never taken away, so whatever is put back has them all. Of a run of such changes
//            one version is kept, the first. The others would be put back as the very same item, would push out those
//            that are needed, and would take the size of a long history each time.
//          * The last ten that overwrote something stay, with the runs between them: 20 files an item at most.
//          * A version that cannot be kept: the change is refused before anything is written, for two such changes
//            would lose a text without a word (`.bak` holds one). What only adds references goes on: it loses nothing,
//            and a reference is an hour of work.
//          * The folder is the item's, by kind and name, and follows a rename. What had the name before comes first.
//          * A version is never altered; whoever does not end what was begun leaves one that equals the item, which is
//            not shown, and which the next change takes for its own.
//          What only follows another item's new name is no change of its own and keeps no version.
// Units:   times in UTC, to the second. Order is by number: a clock may be set back.
// Thread:  any but audio, while the folder's lock is held, but for reading.
namespace couplet {

enum class Replaced { byChange, byMoreReferences, byRemoval };

struct VersionFile
{
    std::filesystem::path file;
    int number = 0;    // counted from 1 for each item, never given twice while any is left
    std::string until; // when the text was replaced: "2026-05-03T12:04:11Z"
    Replaced how = Replaced::byChange;
};

// Where the versions of the item are, by kind and name.
std::filesystem::path versionFolder(const std::filesystem::path& root, const Item&);

// Oldest first; a folder that is not there has none.
Outcome<std::vector<VersionFile>> versionFilesIn(const std::filesystem::path& folder);

// The folder of an item that is there: also where a rename was cut short and it still lies under the old name.
std::filesystem::path versionFolderOf(const std::filesystem::path& root, const Entry&, const FolderContent&);

// Before the entry's text is replaced. The fault is a whole reason with its mend.
Outcome<Done> keepVersion(const std::filesystem::path& root, const Entry&, Replaced, const FolderContent&);

// When the text was not replaced after all.
void takeBackVersion(const std::filesystem::path& root, const Entry&);

// After a change; what cannot be taken away stays.
void pruneVersions(const std::filesystem::path& root, const Item&);

// After a rename; what could not be moved is found where it is.
void moveVersions(const std::filesystem::path& root, const Item& before, const Item& after);

// All that `before` holds stands in `after` too, which has more references.
bool isMoreReferences(const Item& before, const Item& after);

inline constexpr int keptVersions = 10;

} // namespace couplet
