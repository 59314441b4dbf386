// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Descriptor.h"
#include "Library/FolderEdit.h"
#include "Library/ItemJson.h"
#include "Library/Names.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <sys/stat.h>

namespace couplet {
namespace {

namespace fs = std::filesystem;

struct Removed
{
    fs::path backup, file;
    Item item;
    timespec when; // of its last change of name
};

bool isEarlier(const Removed& a, const Removed& b)
{
    return std::pair(a.when.tv_sec, a.when.tv_nsec) < std::pair(b.when.tv_sec, b.when.tv_nsec);
}

// Backups whose items are gone: what was removed, and not what was merely saved again.
std::vector<Removed> removedFrom(const fs::path& root)
{
    std::vector<Removed> removed;
    for (const auto& backup : filesIn(root, ".json.bak").files) {
        auto file = backup;
        file.replace_extension();
        struct stat status = {};
        std::error_code error;
        if (fs::exists(fs::symlink_status(file, error)) || ::lstat(backup.c_str(), &status) != 0)
            continue;
        if (auto read = readItemFile(backup); read && read->item)
            removed.push_back({backup, file, *std::move(read->item), status.st_ctim});
    }
    std::sort(removed.begin(), removed.end(), isEarlier);
    return removed;
}

Outcome<const Removed*> lastOf(const std::vector<Removed>& all, const std::string& nameAndKind, const fs::path& root)
{
    const Removed* found = nullptr;
    for (const auto& each : all) {
        const bool isMeant = lookTheSame(nameOf(each.item), nameAndKind) ||
                             lookTheSame(kindOf(each.item) + " " + nameOf(each.item), nameAndKind);
        if (!isMeant)
            continue;
        if (found && kindOf(found->item) != kindOf(each.item))
            return Fault{fmt::format("a {} and a {} of the name {} were both removed; write the kind in front of it",
                                     kindOf(found->item), kindOf(each.item), inQuotes(nameOf(each.item)))};
        found = &each;
    }
    if (found)
        return found;
    std::string names;
    for (const auto& each : all)
        names += (names.empty() ? "" : ", ") + titleOf(each.item);
    return Fault{fmt::format("nothing named {} was removed from the library {}; {}", inQuotes(nameAndKind),
                             inQuotes(root.string()),
                             names.empty() ? "nothing is there to put back" : "these can be put back: " + names)};
}

} // namespace

Outcome<Done> Folder::putBack(const std::string& nameAndKind) const
{
    std::error_code error;
    if (!fs::exists(root, error))
        return Fault{fmt::format("there is no library {}; name another with --library", inQuotes(root.string()))};
    const auto lock = lockedFolder(root);
    if (!lock)
        return Fault{fmt::format("{} was not put back: {}", inQuotes(nameAndKind), lock.fault().sentence)};
    const auto removed = removedFrom(root);
    const auto found = lastOf(removed, nameAndKind, root);
    if (!found)
        return found.fault();
    const auto& [backup, file, item, when] = **found;
    const auto refused = [&, &one = item](const std::string& why) {
        return Fault{fmt::format("{} was not put back: {}", titleOf(one), why)};
    };
    const auto content = scanFolder(root);
    if (const auto* blind = content.findUnreadable(root))
        return refused(blind->fault.sentence);
    if (!content.alike(kindOf(item), nameOf(item)).empty())
        return refused("there is another of that name by now; rename that one first");
    if (const auto* coupler = std::get_if<Coupler>(&item))
        if (const auto holder = holderOfSlot(content, *coupler))
            return refused(fmt::format("slot {} is taken by coupler {} by now; give that one another slot first",
                                       coupler->slot, inQuotes(*holder)));
    if (const auto moved = moveFile(backup, file); !moved)
        return refused(fmt::format("its file {} could not be renamed ({}); give write permission there",
                                   inQuotes(backup.string()), moved.fault().sentence));
    if (const auto synced = syncFolder(root); !synced)
        return Fault{fmt::format("{} was put back, but may be gone after a power cut ({}); check the disk",
                                 titleOf(item), synced.fault().sentence)};
    return Done{};
}

} // namespace couplet
