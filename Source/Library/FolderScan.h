// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <filesystem>
#include <string>
#include <vector>

// Purpose: what a library's folder holds, with the file of each item, for those who save, find and remove.
// Thread:  any but audio.
namespace couplet {

struct Entry
{
    std::filesystem::path file;
    std::string text; // as it stands on disk
    Item item;
};

struct UnreadableFile
{
    std::filesystem::path file;
    Fault fault;
};

struct FolderContent
{
    std::vector<Entry> entries; // by kind, then name; of one kind and name there is one
    std::vector<UnreadableFile> unreadable;

    const Entry* find(const std::string& kind, const std::string& name) const;
    const UnreadableFile* findUnreadable(const std::filesystem::path&) const;
};

FolderContent scanFolder(const std::filesystem::path& root);

} // namespace couplet
