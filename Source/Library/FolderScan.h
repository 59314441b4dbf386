// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"
#include "Library/HistoryFiles.h"

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

// Purpose: what a library's folder holds, with the file of each item, for those who save, find, change and watch.
// Thread:  any but audio.
namespace couplet {

struct Entry
{
    std::filesystem::path file;
    std::string text; // as it stands on disk
    Item item;        // with its older references
    Older older;      // where those are
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
    std::vector<Fault> lookAlikes; // one for each entry whose name looks like one before it
    std::multimap<std::pair<std::string, std::string>, std::string> looks; // names by kind and look, as scanned

    // By name as it stands, else the only one whose name looks the same.
    const Entry* find(const std::string& kind, const std::string& name) const;
    const Entry* findExact(const std::string& kind, const std::string& name) const;
    // All whose names look the same.
    std::vector<const Entry*> alike(const std::string& kind, const std::string& name) const;
    const UnreadableFile* findUnreadable(const std::filesystem::path&) const;
};

FolderContent scanFolder(const std::filesystem::path& root);

// By name, by kind and name ("earphone bench"), or by its file's name. A fault lists near names.
Outcome<const Entry*> entryNamed(const std::string& nameAndKind, const FolderContent&,
                                 const std::filesystem::path& root);

// The parts of a scan. Names with a dot in front are others' (editors', ours while saving). Sorted, so that every run
// sees the folder in the same order.
struct FilesFound
{
    std::vector<std::filesystem::path> files;
    std::optional<Fault> fault; // the folder itself could not be read
};
FilesFound filesIn(const std::filesystem::path& root, const char* ending);

// Absent: another program removed the file meanwhile.
struct ItemRead
{
    std::string text;
    Outcome<Item> item;
    Older older = {};
    std::vector<HistoryFault> historyFaults = {}; // the item goes on without those
};
std::optional<ItemRead> readItemFile(const std::filesystem::path&);
// A version of before, which does not lie where the files of its history do.
std::optional<ItemRead> readItemFile(const std::filesystem::path&, const std::filesystem::path& historyFolder);

// Finds the second item of one kind and name, and those whose names look the same.
class NamesSeen
{
public:
    // A fault when another file holds one of that kind and name; else this one does from now on.
    std::optional<Fault> clash(const Item&, const std::filesystem::path& file);
    // One that is no clash: a fault when its name looks like another's.
    std::optional<Fault> lookAlike(const Item&, const std::filesystem::path& file);

private:
    std::map<std::pair<std::size_t, std::string>, std::filesystem::path> looks;
    std::map<std::pair<std::size_t, std::string>, std::filesystem::path> files;
};

// That names of several look the same, with their files and the mend.
Fault lookAlikesOf(const std::vector<const Entry*>&);

bool standsBefore(const Item&, const Item&); // by kind, then name

} // namespace couplet
