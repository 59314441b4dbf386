// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FolderVersions.h"

#include "Library/FileName.h"
#include "Library/FolderEdit.h"
#include "Library/FormerNames.h"
#include "Library/ItemJson.h"
#include "Library/Names.h"
#include "Library/Utf8.h"
#include "Library/VersionStore.h"
#include "Library/VersionWords.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace couplet {
namespace {

namespace fs = std::filesystem;

Item withName(Item item, const std::string& name)
{
    std::visit([&](auto& each) { each.name = name; }, item);
    return item;
}

// What is asked for: an item that is there, or the name and kind of one that was.
struct Subject
{
    Item item; // of a removed one the name and the kind alone
    const Entry* entry = nullptr;
    std::vector<VersionFile> files; // oldest first
};

Outcome<Subject> subjectOf(const Entry& entry, const FolderContent& content, const fs::path& root)
{
    const auto folder = versionFolderOf(root, entry, content);
    auto files = versionFilesIn(folder);
    if (!files)
        return Fault{fmt::format("the versions in {} could not be read ({}); give read permission there",
                                 inQuotes(folder.string()), files.fault().sentence)};
    // One that equals the item comes of a change that did not go through.
    if (!files->empty() && files->back().how != Replaced::byRemoval)
        if (const auto last = readItemFile(files->back().file, root); last && last->text == entry.text)
            files->pop_back();
    return Subject{entry.item, &entry, *std::move(files)};
}

// Items of the name, of any kind, that are not there but have versions.
std::vector<Subject> removedOnes(const std::string& nameAndKind, const FolderContent& content, const fs::path& root)
{
    std::vector<Subject> found;
    for (const Item& kind : {Item(Coupler{}), Item(Calibrator{}), Item(Earphone{}), Item(DriveSource{})}) {
        const auto front = kindOf(kind) + " ";
        std::set<std::string> names = {nameAndKind, keptName(nameAndKind)};
        for (const auto& whole : {nameAndKind, keptName(nameAndKind)})
            if (whole.starts_with(front))
                names.insert(whole.substr(front.size()));
        for (const auto& name : names) {
            auto item = withName(kind, name);
            auto files = versionFilesIn(versionFolder(root, item));
            if (files && !files->empty() && !content.find(kindOf(kind), name))
                found.push_back({std::move(item), nullptr, *std::move(files)});
        }
    }
    return found;
}

Outcome<Subject> subjectNamed(const std::string& nameAndKind, const FolderContent& content, const fs::path& root)
{
    const auto entry = entryNamed(nameAndKind, content, root);
    if (entry)
        return subjectOf(**entry, content, root);
    auto removed = removedOnes(nameAndKind, content, root);
    if (removed.size() > 1)
        return Fault{fmt::format("{} and {} were both removed; write the kind in front of the name",
                                 titleOf(removed[0].item), titleOf(removed[1].item))};
    if (removed.empty())
        return entry.fault();
    return std::move(removed.front());
}

// What each version was, and what was changed then; absent when another program took one away meanwhile.
std::optional<Versions> listed(const Subject& subject, const fs::path& root)
{
    Versions versions{kindOf(subject.item), nameOf(subject.item), subject.entry == nullptr, {}, {}};
    auto after = subject.entry ? std::optional(subject.item) : std::nullopt;
    for (auto file = subject.files.rbegin(); file != subject.files.rend(); ++file) {
        auto read = readItemFile(file->file, root);
        if (!read)
            return std::nullopt;
        if (!read->item) {
            versions.unreadable.push_back(read->item.fault());
            continue;
        }
        auto& item = *read->item;
        auto change = after ? changeWords(item, *after) : std::string();
        if (file->how == Replaced::byRemoval)
            change.insert(0, change.empty() ? "removed" : "removed, then made again: ");
        after = item;
        versions.list.push_back({file->number, file->until, std::move(change), std::move(item)});
    }
    return versions;
}

std::string numbersOf(const std::vector<VersionFile>& files)
{
    std::string text;
    for (const auto& file : files)
        text += (text.empty() ? "" : ", ") + std::to_string(file.number);
    return text;
}

Outcome<const VersionFile*> versionNumbered(const Subject& subject, int number)
{
    const auto found =
        std::find_if(subject.files.begin(), subject.files.end(), [&](const auto& f) { return f.number == number; });
    if (found != subject.files.end())
        return &*found;
    const auto title = titleOf(subject.item);
    if (subject.files.empty())
        return Fault{fmt::format("{} has no version {}: nothing of it was overwritten yet", title, number)};
    return Fault{
        fmt::format("{} has no version {}; it has {}: 'couplet library versions {}' says what was changed in each",
                    title, number, numbersOf(subject.files), inQuotes(nameOf(subject.item)))};
}

// References that stand anywhere for the item.
void joinHistories(Coupler& wanted, const Subject& subject, const fs::path& root)
{
    if (subject.entry)
        return keepHistory(wanted, std::get<Coupler>(subject.entry->item));
    const auto backup = backupOf(root / fileNameOf(subject.item));
    for (const auto& file : {subject.files.back().file, backup})
        if (const auto last = readItemFile(file, root); last && last->item)
            if (const auto* coupler = std::get_if<Coupler>(&*last->item); coupler && coupler->name == wanted.name)
                keepHistory(wanted, *coupler);
}

// Marks first, as a fit does: an earphone too many is called no proof, never one too few.
Outcome<Done> markChoosers(const Coupler& coupler, FolderContent& content, const fs::path& root)
{
    if (!coupler.correction || !coupler.correction->chosenBy)
        return Done{};
    for (const auto& name : *coupler.correction->chosenBy) {
        const auto* entry = content.find("earphone", name);
        if (!entry)
            continue;
        auto earphone = std::get<Earphone>(entry->item);
        auto& chose = earphone.choseCorrectionOf;
        if (std::find(chose.begin(), chose.end(), coupler.name) != chose.end())
            continue;
        chose.push_back(coupler.name);
        if (auto saved = saveInto(root, content, earphone); !saved)
            return saved;
    }
    return Done{};
}

} // namespace

Outcome<Versions> versionsOf(const Folder& folder, const std::string& nameAndKind)
{
    constexpr int mostTries = 20;
    for (int i = 0; i < mostTries; ++i) {
        const auto content = scanFolder(folder.path());
        const auto subject = subjectNamed(nameAndKind, content, folder.path());
        if (!subject)
            return subject.fault();
        if (auto versions = listed(*subject, folder.path()))
            return *std::move(versions);
    }
    return Fault{fmt::format("the versions of {} are being changed by another program; try again when it has ended",
                             inQuotes(nameAndKind))};
}

Outcome<VersionPutBack> putBackVersion(const Folder& folder, const std::string& nameAndKind, int number)
{
    const auto& root = folder.path();
    std::error_code error;
    if (!fs::exists(root, error))
        return Fault{fmt::format("there is no library {}; name another with --library", inQuotes(root.string()))};
    const auto refused = [&](const std::string& title, const std::string& why) {
        return Fault{fmt::format("version {} of {} was not put back: {}", number, title, why)};
    };
    const auto lock = lockedFolder(root);
    if (!lock)
        return refused(inQuotes(nameAndKind), lock.fault().sentence);
    auto content = scanFolder(root);
    if (const auto* blind = content.findUnreadable(root))
        return refused(inQuotes(nameAndKind), blind->fault.sentence);
    const auto subject = subjectNamed(nameAndKind, content, root);
    if (!subject)
        return subject.fault();
    const auto title = titleOf(subject->item);
    const auto version = versionNumbered(*subject, number);
    if (!version)
        return version.fault();
    auto read = readItemFile((*version)->file, root);
    if (!read)
        return refused(title, "its file has just been taken away; list the versions again");
    auto& item = read->item;
    if (!item)
        return refused(title, item.fault().sentence);
    if (item->index() != subject->item.index())
        return refused(title, fmt::format("its file holds a {}; take {} away", kindOf(*item),
                                          inQuotes((*version)->file.string())));
    auto wanted = withName(*std::move(item), nameOf(subject->item));
    VersionPutBack report{subject->entry ? subject->entry->item : wanted, {}, subject->entry == nullptr, false, 0};
    if (auto* coupler = std::get_if<Coupler>(&wanted)) {
        const auto had = coupler->references.size();
        joinHistories(*coupler, *subject, root);
        report.stayed = coupler->references.size() - had;
        if (const auto holder = holderOfSlot(content, *coupler))
            return refused(title, fmt::format("slot {} is taken by coupler {} by now; give that one another slot first",
                                              coupler->slot, inQuotes(*holder)));
    }
    followNames(wanted, subject->entry ? &subject->entry->item : nullptr, content, root);
    report.now = wanted;
    report.isChanged = report.wasRemoved || !(report.before == wanted);
    if (const auto* coupler = std::get_if<Coupler>(&wanted))
        if (const auto marked = markChoosers(*coupler, content, root); !marked)
            return refused(title, marked.fault().sentence);
    if (const auto saved = saveInto(root, content, wanted); !saved)
        return refused(title, saved.fault().sentence);
    return report;
}

} // namespace couplet
