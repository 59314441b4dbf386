// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/WatchedFolder.h"

#include "Library/FolderScan.h"

#include <algorithm>
#include <ctime>
#include <sys/stat.h>

namespace couplet {
namespace {

namespace fs = std::filesystem;

constexpr auto coarsestClock_s = 2; // FAT keeps times to 2 s; from memory

bool isSame(const Outcome<Item>& a, const Outcome<Item>& b)
{
    if (a && b)
        return *a == *b;
    return !a && !b && a.fault().sentence == b.fault().sentence;
}

} // namespace

// Of the file behind a link, for that is what is read.
WatchedFolder::Stamp WatchedFolder::stampOf(const fs::path& file)
{
    struct stat status = {};
    if (::stat(file.c_str(), &status) != 0)
        return {};
    return {status.st_dev,
            status.st_ino,
            status.st_size,
            {status.st_mtim.tv_sec, status.st_mtim.tv_nsec},
            {status.st_ctim.tv_sec, status.st_ctim.tv_nsec}};
}

bool WatchedFolder::isSettled(const Stamp& stamp)
{
    const auto age_s = std::time(nullptr) - std::max(stamp.written, stamp.changed).first;
    return stamp.size_bytes >= 0 && (age_s > coarsestClock_s || age_s < -coarsestClock_s);
}

// Those of its history, which nobody changes but by hand.
bool WatchedFolder::areSame(const Seen& seen)
{
    return std::all_of(seen.older.begin(), seen.older.end(),
                       [](const auto& each) { return stampOf(each.first) == each.second; });
}

// Whether what the file holds has changed.
bool WatchedFolder::look(const fs::path& file)
{
    auto& seen = files[file];
    const auto stamp = stampOf(file); // before reading: a change meanwhile shows next time
    if (seen.isSettled && seen.stamp == stamp && areSame(seen))
        return false;
    auto read = readItemFile(file);
    ++filesRead;
    auto item = read ? std::optional(std::move(read->item)) : std::nullopt;
    const bool isChanged = seen.item.has_value() != item.has_value() || (item && !isSame(*seen.item, *item));
    Seen now{stamp, isSettled(stamp), std::move(item), {}, {}};
    if (read) {
        for (const auto& named : read->older.files)
            now.older.emplace_back(file.parent_path() / named.file, stampOf(file.parent_path() / named.file));
        for (const auto& fault : read->historyFaults)
            now.faults.push_back(fault.fault);
    }
    const auto sameFaults = [](const Fault& a, const Fault& b) { return a.sentence == b.sentence; };
    const bool otherFaults =
        !std::equal(now.faults.begin(), now.faults.end(), seen.faults.begin(), seen.faults.end(), sameFaults);
    seen = std::move(now);
    return isChanged || otherFaults;
}

Folder::Listing WatchedFolder::listed() const
{
    Folder::Listing listing;
    if (folderFault)
        listing.unreadable.push_back(*folderFault);
    NamesSeen names;
    for (const auto& [file, seen] : files) {
        if (!seen.item)
            continue;
        if (!*seen.item)
            listing.unreadable.push_back(seen.item->fault());
        else if (auto clash = names.clash(**seen.item, file))
            listing.unreadable.push_back(*std::move(clash));
        else {
            if (auto alike = names.lookAlike(**seen.item, file))
                listing.lookAlikes.push_back(*std::move(alike));
            listing.items.push_back(**seen.item);
            listing.unreadable.insert(listing.unreadable.end(), seen.faults.begin(), seen.faults.end());
        }
    }
    std::sort(listing.items.begin(), listing.items.end(), standsBefore);
    return listing;
}

bool WatchedFolder::refresh()
{
    const auto found = filesIn(folder.path(), ".json");
    filesRead = 0;
    bool isChanged = isFirst;
    isFirst = false;
    const auto isGone = [&](const auto& seen) {
        return !std::binary_search(found.files.begin(), found.files.end(), seen.first);
    };
    isChanged = std::erase_if(files, isGone) > 0 || isChanged;
    for (const auto& file : found.files)
        isChanged = look(file) || isChanged;
    const auto faultBefore = folderFault ? folderFault->sentence : std::string();
    isChanged = isChanged || faultBefore != (found.fault ? found.fault->sentence : std::string());
    folderFault = found.fault;
    if (isChanged)
        shown = listed();
    return isChanged;
}

} // namespace couplet
