// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FileName.h"
#include "Library/Folder.h"
#include "Library/FolderScan.h"
#include "Library/Names.h"
#include "Library/NearNames.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

std::string howToMake(const std::string& kind)
{
    if (kind == "coupler")
        return "'couplet reference TAKE --coupler NAME --keep' makes one, and so does 'couplet library add "
               "FILE'";
    return "'couplet library add FILE' adds one";
}

std::string quotedList(const std::vector<std::string>& names)
{
    std::string list;
    for (const auto& name : names)
        list += (list.empty() ? "" : ", ") + inQuotes(name);
    return list;
}

// `kind` is empty when any would do.
Fault nothingNamed(const std::string& name, const std::string& kind, const FolderContent& content,
                   const std::filesystem::path& root)
{
    std::vector<std::string> names;
    for (const auto& entry : content.entries)
        if (kind.empty() || kindOf(entry.item) == kind)
            names.push_back(nameOf(entry.item));
    const auto near = nearNames(name, names);
    auto sentence = fmt::format("no {} {}", kind.empty() ? "item" : kind, inQuotes(name));
    if (!near.empty())
        sentence += "; near: " + quotedList(near);
    else if (names.empty())
        sentence += fmt::format(": the library {} has none yet; {}", inQuotes(root.string()), howToMake(kind));
    else
        sentence +=
            fmt::format(" in the library {}; 'couplet library list' shows what is there", inQuotes(root.string()));
    if (!content.unreadable.empty())
        sentence += fmt::format(" (and of its files {} cannot be read; the first: {})", content.unreadable.size(),
                                content.unreadable.front().fault.sentence);
    return {sentence};
}

Fault shareName(const Item& a, const Item& b, const std::string& name)
{
    return {fmt::format("the kinds {} and {} both have an item {}; write '{} {}' or '{} {}'", kindOf(a), kindOf(b),
                        inQuotes(name), kindOf(a), onOneLine(name), kindOf(b), onOneLine(name))};
}

template <class T> Outcome<T> findAs(const std::string& kind, const std::string& name, const Folder& folder)
{
    const auto content = scanFolder(folder.path());
    if (const auto* entry = content.find(kind, name))
        return std::get<T>(entry->item);
    if (const auto same = content.alike(kind, name); !same.empty())
        return lookAlikesOf(same);
    T wanted;
    wanted.name = name;
    if (const auto* there = content.findUnreadable(folder.path() / fileNameOf(wanted)))
        return there->fault; // it is there, and cannot be read
    return nothingNamed(name, kind, content, folder.path());
}

} // namespace

Outcome<Coupler> Folder::coupler(const std::string& name) const
{
    return findAs<Coupler>("coupler", name, *this);
}

Outcome<Calibrator> Folder::calibrator(const std::string& name) const
{
    return findAs<Calibrator>("calibrator", name, *this);
}

Outcome<Earphone> Folder::earphone(const std::string& name) const
{
    return findAs<Earphone>("earphone", name, *this);
}

// A name that items of two kinds share is told apart by its kind in front: "earphone bench".
Outcome<const Entry*> entryNamed(const std::string& name, const FolderContent& content,
                                 const std::filesystem::path& root)
{
    const Entry* found = nullptr;
    for (const auto& entry : content.entries) {
        if (nameOf(entry.item) != name)
            continue;
        if (found)
            return shareName(found->item, entry.item, name);
        found = &entry;
    }
    const auto withKind = [](const Entry& entry) { return kindOf(entry.item) + " " + nameOf(entry.item); };
    for (const auto& entry : content.entries)
        if (!found && (withKind(entry) == name || entry.file.filename() == name))
            found = &entry;
    if (found)
        return found;
    std::vector<const Entry*> same;
    for (const auto& entry : content.entries)
        if (lookTheSame(nameOf(entry.item), name) || lookTheSame(withKind(entry), name))
            same.push_back(&entry);
    if (same.empty())
        return nothingNamed(name, "", content, root);
    if (same.size() == 1)
        return same.front();
    const auto kind = same[0]->item.index();
    const bool ofOneKind =
        std::all_of(same.begin(), same.end(), [&](const Entry* e) { return e->item.index() == kind; });
    return ofOneKind ? lookAlikesOf(same) : shareName(same[0]->item, same[1]->item, name);
}

Outcome<Item> Folder::find(const std::string& name) const
{
    const auto content = scanFolder(root);
    const auto entry = entryNamed(name, content, root);
    return entry ? Outcome<Item>((*entry)->item) : entry.fault();
}

} // namespace couplet
