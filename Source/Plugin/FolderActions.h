// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"
#include "Library/FolderVersions.h"
#include "Plugin/LibraryView.h"

#include <filesystem>
#include <string>
#include <vector>

// Purpose: what the chooser asks of a library's folder, each action whole in itself.
// Errors:  one sentence; nothing is lost by an action that was refused.
// Thread:  any but audio, and slow: it waits for the disk.
namespace couplet {

std::vector<std::string> presetNames();                                // the kinds that can be made
Outcome<std::string> madeIn(const Folder&, const std::string& preset); // the name it got
Outcome<std::string> copiedIn(const Folder&, const std::string& name); // likewise
Outcome<Coupler> renamedIn(const Folder&, const std::string& name, const std::string& to);
Outcome<std::string> removedFrom(const Folder&, const std::string& name); // what Folder::putBack calls it

// Of a coupler that is there.
Outcome<Versions> versionsIn(const Folder&, const std::string& name);
Outcome<VersionPutBack> versionPutBackIn(const Folder&, const std::string& name, int number);

struct ImportPlan
{
    std::vector<Item> items; // to be saved
    ImportQuestion question; // empty `differing`: there is none
};
Outcome<ImportPlan> importPlanOf(const Folder&, const std::vector<std::filesystem::path>&);

struct ImportReport
{
    std::string sentence;
    std::string firstCoupler; // of those that came; empty: none
};
// What differs takes the file's words; a coupler's references of both stay.
Outcome<ImportReport> importedInto(const Folder&, const std::vector<Item>&);

// A coupler goes with the calibrators that it names; an empty name: all items. A file that is there already is never written over: it might be anything.
Outcome<Done> exportedFrom(const Folder&, const std::string& name, const std::filesystem::path&);

} // namespace couplet
