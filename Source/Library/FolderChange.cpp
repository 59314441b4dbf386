// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Descriptor.h"
#include "Library/FileName.h"
#include "Library/FolderEdit.h"
#include "Library/ItemJson.h"
#include "Library/Names.h"
#include "Library/Utf8.h"
#include "Library/VersionStore.h"

#include <fmt/format.h>

#include <algorithm>

// Invariants of a rename, at every moment and after a crash at any of them:
//   1. the item is there, whole, under exactly one of its two names;
//   2. an earphone that chose a coupler's correction names it by whichever name the coupler has;
//   3. a coupler's correction names each earphone that chose it by whichever name the earphone has; its references
//      keep what was written, for by that they are known again.
namespace couplet {
namespace {

namespace fs = std::filesystem;

Outcome<Done> rewrite(const Entry& entry, const Item& item)
{
    if (entry.item == item)
        return Done{};
    const auto text = textForFolder(item, entry.older, entry.file.parent_path());
    return text ? replaceFile(entry.file, *text, true) : Outcome<Done>(text.fault());
}

void addOnce(std::vector<std::string>& names, const std::string& name)
{
    if (std::find(names.begin(), names.end(), name) == names.end())
        names.push_back(name);
}

// Each earphone that took part in choosing the correction of `coupler`, changed and written.
template <class Change>
Outcome<Done> changeChoosers(const FolderContent& content, const std::string& coupler, Change change)
{
    for (const auto& entry : content.entries) {
        const auto* earphone = std::get_if<Earphone>(&entry.item);
        if (!earphone)
            continue;
        auto changed = *earphone;
        auto& chose = changed.choseCorrectionOf;
        if (std::find(chose.begin(), chose.end(), coupler) == chose.end())
            continue;
        change(chose);
        if (auto done = rewrite(entry, changed); !done)
            return done;
    }
    return Done{};
}

// Each coupler's correction that names the earphone, changed and written.
template <class Change>
Outcome<Done> changeChosenBy(const FolderContent& content, const std::string& earphone, Change change)
{
    for (const auto& entry : content.entries) {
        const auto* coupler = std::get_if<Coupler>(&entry.item);
        if (!coupler || !coupler->correction || !coupler->correction->chosenBy)
            continue;
        auto changed = *coupler;
        auto& chose = *changed.correction->chosenBy;
        if (std::find(chose.begin(), chose.end(), earphone) == chose.end())
            continue;
        change(chose);
        if (auto done = rewrite(entry, changed); !done)
            return done;
    }
    return Done{};
}

// Before the item's new name is there: whoever is told of both names claims no more than before.
Outcome<Done> addToChoosers(const FolderContent& content, const std::string& kind, const std::string& oldName,
                            const std::string& newName)
{
    const auto add = [&](std::vector<std::string>& names) { addOnce(names, newName); };
    if (kind == "coupler")
        return changeChoosers(content, oldName, add);
    return kind == "earphone" ? changeChosenBy(content, oldName, add) : Outcome<Done>(Done{});
}

// After it: the old name is nobody's.
Outcome<Done> followName(const fs::path& root, const std::string& kind, const std::string& oldName,
                         const std::string& newName)
{
    const auto content = scanFolder(root);
    const auto erase = [&](std::vector<std::string>& names) { std::erase(names, oldName); };
    if (kind == "coupler")
        return changeChoosers(content, oldName, erase);
    if (kind == "earphone")
        return changeChosenBy(content, oldName, erase);
    if (kind != "calibrator")
        return Done{};
    for (const auto& entry : content.entries) {
        const auto* coupler = std::get_if<Coupler>(&entry.item);
        if (!coupler || !coupler->correction || coupler->correction->calibrator != oldName)
            continue;
        auto changed = *coupler;
        changed.correction->calibrator = newName;
        if (auto done = rewrite(entry, changed); !done)
            return done;
    }
    return Done{};
}

Item named(Item item, const std::string& name)
{
    std::visit([&](auto& each) { each.name = name; }, item);
    return item;
}

bool isTaken(const fs::path& file)
{
    std::error_code error;
    return fs::exists(fs::symlink_status(file, error));
}

// In place first, so that there is never a second one; then under the file name that a person looks for. No backup of
// what differs by its name alone: under the new one may lie that of an item that was removed, and is to be had back.
Outcome<Done> giveName(const Entry& entry, const Item& renamed, const fs::path& file)
{
    const auto text = textForFolder(renamed, entry.older, entry.file.parent_path());
    if (!text)
        return text.fault();
    if (auto written = replaceFile(entry.file, *text, false); !written)
        return written;
    if (file == entry.file)
        return Done{};
    if (auto moved = moveFile(entry.file, file); !moved)
        return moved;
    return syncFolder(file.parent_path());
}

// "X" of "X copy" and "X copy 2", so that a copy of a copy is no "X copy copy".
std::string withoutCopyMark(const std::string& name)
{
    const auto end = name.find_last_not_of("0123456789 ");
    const auto bare = name.substr(0, end == std::string::npos ? 0 : end + 1);
    constexpr std::string_view mark = " copy";
    return bare.size() > mark.size() && bare.ends_with(mark) ? bare.substr(0, bare.size() - mark.size()) : name;
}

std::string shortened(const std::string& name, std::size_t most)
{
    const auto characters = charactersOf(name).value_or(std::u32string());
    std::string text;
    for (std::size_t i = 0; i < std::min(most, characters.size()); ++i)
        appendCharacter(text, characters[i]);
    return text;
}

Item freeCopy(const Item& item, const FolderContent& content, const fs::path& root)
{
    constexpr std::size_t longestStem = 105; // leaves room for the mark and a number within 120 characters
    const auto stem = shortened(withoutCopyMark(nameOf(item)), longestStem) + " copy";
    for (int number = 1;; ++number) {
        auto copy = named(item, number == 1 ? stem : fmt::format("{} {}", stem, number));
        if (content.alike(kindOf(copy), nameOf(copy)).empty() && !isTaken(root / fileNameOf(copy)))
            return copy;
    }
}

void becomeAnother(Coupler& copy, const std::string& original)
{
    copy.references.clear();
    copy.slot = 0;
    if (!copy.correction)
        return;
    auto& origin = copy.correction->origin;
    origin += (origin.empty() ? "" : ", ") + fmt::format("copied from coupler '{}'", original);
}

void becomeAnother(Calibrator& copy, const std::string&)
{
    copy.serial.clear();
    copy.certificate.clear();
    copy.due.clear();
    for (auto& tone : copy.tones)
        tone.U_dB.reset();
}

void becomeAnother(Earphone&, const std::string&) {}
void becomeAnother(DriveSource&, const std::string&) {}

} // namespace

Outcome<Done> Folder::rename(const std::string& nameAndKind, const std::string& written) const
{
    const auto newName = keptName(written);
    const auto lock = lockedFolder(root);
    if (!lock)
        return Fault{fmt::format("{} was not renamed: {}", inQuotes(nameAndKind), lock.fault().sentence)};
    const auto content = scanFolder(root);
    if (const auto* blind = content.findUnreadable(root))
        return Fault{fmt::format("{} was not renamed: {}", inQuotes(nameAndKind), blind->fault.sentence)};
    const auto found = entryNamed(nameAndKind, content, root);
    if (!found)
        return found.fault();
    const auto& entry = **found;
    const auto kind = kindOf(entry.item), oldName = nameOf(entry.item), title = titleOf(entry.item);
    const auto refused = [&](const std::string& why) {
        return Fault{fmt::format("{} was not renamed: {}", title, why)};
    };
    if (newName == oldName)
        return Done{};
    const auto renamed = named(entry.item, newName);
    if (const auto good = canBeKept(withoutReferences(renamed)); !good)
        return refused(good.fault().sentence);
    const auto same = content.alike(kind, newName);
    if (std::any_of(same.begin(), same.end(), [&](const Entry* other) { return other != &entry; }))
        return refused(fmt::format("there is a {} already; choose another name", titleOf(renamed)));
    const bool hasOwnFileName = entry.file.filename() == fileNameOf(entry.item);
    const auto file = hasOwnFileName ? root / fileNameOf(renamed) : entry.file;
    if (file != entry.file && isTaken(file))
        return refused(fmt::format("{} holds something else; rename that file", inQuotes(file.string())));
    if (const auto told = addToChoosers(content, kind, oldName, newName); !told)
        return refused(told.fault().sentence);
    if (const auto kept = keepVersion(root, entry, Replaced::byChange, content); !kept)
        return refused(kept.fault().sentence);
    if (const auto given = giveName(entry, renamed, file); !given)
        return refused(given.fault().sentence);
    moveVersions(root, entry.item, renamed);
    pruneVersions(root, renamed);
    if (const auto followed = followName(root, kind, oldName, newName); !followed)
        return Fault{fmt::format("{} is now called {}, but not everything that names it: {}", title, inQuotes(newName),
                                 followed.fault().sentence)};
    return Done{};
}

Outcome<std::string> Folder::copy(const std::string& nameAndKind) const
{
    const auto lock = lockedFolder(root);
    if (!lock)
        return Fault{fmt::format("{} was not copied: {}", inQuotes(nameAndKind), lock.fault().sentence)};
    const auto content = scanFolder(root);
    if (const auto* blind = content.findUnreadable(root))
        return Fault{fmt::format("{} was not copied: {}", inQuotes(nameAndKind), blind->fault.sentence)};
    const auto found = entryNamed(nameAndKind, content, root);
    if (!found)
        return found.fault();
    const auto& original = (*found)->item;
    auto copy = freeCopy(original, content, root);
    std::visit([&](auto& each) { becomeAnother(each, nameOf(original)); }, copy);
    auto done = addToChoosers(content, kindOf(original), nameOf(original), nameOf(copy));
    if (done)
        done = replaceFile(root / fileNameOf(copy), textOf(copy), true);
    if (!done)
        return Fault{fmt::format("{} was not copied: {}", titleOf(original), done.fault().sentence)};
    return nameOf(copy);
}

} // namespace couplet
