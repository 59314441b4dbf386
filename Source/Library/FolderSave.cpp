// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FileName.h"
#include "Library/Folder.h"
#include "Library/FolderEdit.h"
#include "Library/ItemJson.h"
#include "Library/Names.h"
#include "Library/Utf8.h"
#include "Library/VersionStore.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>

namespace couplet {
namespace {

namespace fs = std::filesystem;

Fault notSaved(const Item& item, const std::string& reason)
{
    return {fmt::format("{} was not saved: {}", titleOf(item), reason)};
}

// A file name may be held by an item of another name: a rename that was cut short, or a person's copy. That one gets
// the file name that is its own, for good before another takes the one it had.
Outcome<Done> makeWay(const fs::path& file, FolderContent& content, const fs::path& root)
{
    for (auto& entry : content.entries) {
        const auto own = root / fileNameOf(entry.item);
        std::error_code error;
        if (entry.file != file || own == file || fs::exists(fs::symlink_status(own, error)) || !moveFile(file, own))
            continue;
        entry.file = own;
        if (auto synced = syncFolder(root); !synced)
            return synced;
    }
    return Done{};
}

// Why the file must not be replaced, if so.
std::optional<std::string> obstacleAt(const fs::path& file, const FolderContent& content, const Item& item)
{
    if (const auto* unreadable = content.findUnreadable(file))
        return fmt::format("its file cannot be read and is left as it is ({})", unreadable->fault.sentence);
    std::error_code error;
    const bool isOwn = content.find(kindOf(item), nameOf(item)) != nullptr;
    if (!isOwn && fs::exists(fs::symlink_status(file, error)))
        return fmt::format("{} holds something else; rename that file", inQuotes(file.string()));
    if (const auto* coupler = std::get_if<Coupler>(&item))
        if (const auto holder = holderOfSlot(content, *coupler))
            return fmt::format("slot {} is taken by coupler {}; choose another slot", coupler->slot, inQuotes(*holder));
    return std::nullopt;
}

} // namespace

Outcome<FolderLock> lockedFolder(const fs::path& root)
{
    // Once its lock file is there, the folder's own name lasts.
    std::error_code error;
    if (!fs::exists(root / ".lock", error))
        if (const auto made = makeFolders(root); !made)
            return Fault{fmt::format("the library's folder {} could not be made ({}); choose another with --library",
                                     inQuotes(root.string()), made.fault().sentence)};
    auto lock = FolderLock::take(root);
    if (lock)
        lock->sweep(root);
    return lock;
}

std::optional<std::string> holderOfSlot(const FolderContent& content, const Coupler& wanted)
{
    for (const auto& entry : content.entries) {
        const auto* coupler = std::get_if<Coupler>(&entry.item);
        if (coupler && wanted.slot != 0 && coupler->slot == wanted.slot && coupler->name != wanted.name)
            return coupler->name;
    }
    return std::nullopt;
}

Outcome<Done> canBeKept(const Item& item)
{
    const auto text = textOf(item);
    if (text.size() > largestJson_bytes)
        return Fault{fmt::format("its file would be larger than {} MB and could not be read again; shorten its {}",
                                 largestJson_bytes >> 20,
                                 std::holds_alternative<Coupler>(item) ? "response table or its texts" : "texts")};
    const auto same = itemFrom(text, titleOf(item));
    if (!same)
        return same.fault();
    if (*same != item)
        return Fault{"it would not be read again just as it is; correct its figures"};
    return Done{};
}

Outcome<Done> moveFile(const fs::path& from, const fs::path& to)
{
    if (std::rename(from.c_str(), to.c_str()) != 0)
        return reasonOf(errno);
    return Done{};
}

fs::path backupOf(const fs::path& file)
{
    return file.string() + ".bak";
}

Outcome<Done> Folder::save(const Item& item) const
{
    // A figure that is not finite, a name with a line break or with nothing to see; references are looked at as they are
    // written.
    if (const auto good = canBeKept(withoutReferences(item)); !good)
        return notSaved(item, good.fault().sentence);
    const auto fresh = withKeptName(item, titleOf(item));
    if (!fresh)
        return notSaved(item, fresh.fault().sentence);
    if (const auto good = nameOf(*fresh) == nameOf(item) ? Outcome<Done>(Done{}) : canBeKept(withoutReferences(*fresh));
        !good)
        return notSaved(item, good.fault().sentence); // a few characters are two in normal form C
    const auto lock = lockedFolder(root);
    if (!lock)
        return notSaved(item, lock.fault().sentence);

    auto content = scanFolder(root);
    return saveInto(root, content, item);
}

Outcome<Done> saveInto(const fs::path& root, FolderContent& content, const Item& item)
{
    if (const auto* blind = content.findUnreadable(root)) // what is there, and in which slot, is not known
        return notSaved(item, blind->fault.sentence);
    const auto* old = content.find(kindOf(item), nameOf(item));
    if (const auto same = content.alike(kindOf(item), nameOf(item)); !old && !same.empty())
        return notSaved(item, lookAlikesOf(same).sentence);
    auto wanted = item; // of one that is there the name stays as it is written
    std::visit([&](auto& each) { each.name = old ? nameOf(old->item) : keptName(each.name); }, wanted);
    const auto file = old ? old->file : root / fileNameOf(wanted);
    if (!old)
        if (const auto free = makeWay(file, content, root); !free)
            return notSaved(item, fmt::format("its place {} could not be made free ({}); check the disk",
                                              inQuotes(file.string()), free.fault().sentence));
    if (const auto obstacle = obstacleAt(file, content, wanted))
        return notSaved(item, *obstacle);
    if (auto* coupler = std::get_if<Coupler>(&wanted); coupler && old)
        keepHistory(*coupler, std::get<Coupler>(old->item));
    const auto text = textForFolder(wanted, old ? old->older : Older{}, root);
    if (!text)
        return notSaved(item, text.fault().sentence);
    if (old && old->text == *text) {
        // Writing it again would only cost the backup; but whoever wrote it may have been stopped before it lasted.
        const auto synced = syncFolder(root);
        return synced ? synced : notSaved(item, synced.fault().sentence);
    }
    const auto how = old && isMoreReferences(old->item, wanted) ? Replaced::byMoreReferences : Replaced::byChange;
    if (old)
        if (const auto kept = keepVersion(root, *old, how, content); !kept)
            return notSaved(item, kept.fault().sentence);
    if (const auto replaced = replaceFile(file, *text, true); !replaced) {
        if (old)
            takeBackVersion(root, *old);
        return notSaved(item, replaced.fault().sentence);
    }
    if (old) {
        pruneVersions(root, wanted);
        if (auto now = readItemFile(file); now && now->item) // with the files of its history
            content.entries[static_cast<std::size_t>(old - content.entries.data())] = {
                file, std::move(now->text), *std::move(now->item), std::move(now->older)};
    }
    return Done{};
}

Outcome<Done> Folder::remove(const std::string& name) const
{
    const auto item = find(name);
    if (!item)
        return item.fault();
    const auto lock = lockedFolder(root);
    if (!lock)
        return Fault{fmt::format("{} was not removed: {}", titleOf(*item), lock.fault().sentence)};
    const auto content = scanFolder(root);
    const auto* entry = content.find(kindOf(*item), nameOf(*item));
    if (!entry && !content.unreadable.empty())
        return Fault{fmt::format("{} was not removed: {}", titleOf(*item), content.unreadable.front().fault.sentence)};
    if (!entry)
        return Done{}; // another program did it meanwhile
    // What cannot be kept as a version is kept as the backup; of an older backup a version was kept with its change.
    (void)keepVersion(root, *entry, Replaced::byRemoval, content);
    pruneVersions(root, entry->item);
    if (const auto moved = moveFile(entry->file, backupOf(entry->file)); !moved)
        return Fault{
            fmt::format("{} was not removed: its file {} could not be renamed ({}); give write permission there",
                        titleOf(*item), inQuotes(entry->file.string()), moved.fault().sentence)};
    const auto synced = syncFolder(root);
    if (!synced)
        return Fault{fmt::format("{} was removed, but may come back after a power cut ({}); check the disk",
                                 titleOf(*item), synced.fault().sentence)};
    return Done{};
}

} // namespace couplet
