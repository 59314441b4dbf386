// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FolderScan.h"

#include "Library/Descriptor.h"
#include "Library/Json.h"
#include "Library/Names.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace couplet {
namespace {

namespace fs = std::filesystem;

// What a person may do besides: only where there is a backup.
Fault withBackup(Fault fault, const fs::path& file)
{
    std::error_code error;
    if (fs::exists(fs::path(file.string() + ".bak"), error))
        fault.sentence += ", or put its .bak back in its place";
    return fault;
}

} // namespace

const Entry* FolderContent::find(const std::string& kind, const std::string& name) const
{
    if (const auto* exact = findExact(kind, name))
        return exact;
    const auto same = alike(kind, name);
    return same.size() == 1 ? same.front() : nullptr;
}

const Entry* FolderContent::findExact(const std::string& kind, const std::string& name) const
{
    static const Item kinds[] = {Coupler{}, Calibrator{}, Earphone{}, DriveSource{}};
    const auto* of = std::find_if(std::begin(kinds), std::end(kinds), [&](const Item& k) { return kindOf(k) == kind; });
    if (of == std::end(kinds))
        return nullptr;
    const auto stands = [&](const Item& item) { return std::pair(item.index(), std::string_view(nameOf(item))); };
    const auto wanted = std::pair(of->index(), std::string_view(name));
    const auto found = std::lower_bound(entries.begin(), entries.end(), wanted,
                                        [&](const Entry& e, const auto& w) { return stands(e.item) < w; });
    return found != entries.end() && stands(found->item) == wanted ? &*found : nullptr;
}

std::vector<const Entry*> FolderContent::alike(const std::string& kind, const std::string& name) const
{
    std::vector<const Entry*> all;
    const auto [first, last] = looks.equal_range({kind, lookOf(name)});
    for (auto look = first; look != last; ++look)
        if (const auto* entry = findExact(kind, look->second))
            all.push_back(entry);
    return all;
}

const UnreadableFile* FolderContent::findUnreadable(const fs::path& file) const
{
    const auto found =
        std::find_if(unreadable.begin(), unreadable.end(), [&](const auto& u) { return u.file == file; });
    return found == unreadable.end() ? nullptr : &*found;
}

FilesFound filesIn(const fs::path& root, const char* ending)
{
    FilesFound found;
    std::error_code error;
    for (fs::directory_iterator i(root, error), end; !error && i != end; i.increment(error)) {
        const auto name = i->path().filename().string();
        if (name.front() != '.' && name.ends_with(ending))
            found.files.push_back(i->path());
    }
    if (error && error != std::errc::no_such_file_or_directory)
        found.fault = Fault{fmt::format("{}: the library's folder could not be read ({}); give read permission or "
                                        "choose another with --library",
                                        onOneLine(root.string()), error.message())};
    std::sort(found.files.begin(), found.files.end());
    return found;
}

std::optional<ItemRead> readItemFile(const fs::path& file, const fs::path& historyFolder)
{
    const auto where = onOneLine(file.string());
    auto text = contentOf(file, largestJson_bytes);
    std::error_code error;
    if (!text && !fs::exists(fs::symlink_status(file, error)))
        return std::nullopt;
    if (!text)
        return ItemRead{{},
                        Fault{fmt::format("{}: it could not be read ({}); give read permission or take it out of "
                                          "the folder",
                                          where, text.fault().sentence)}};
    auto item = itemFrom(*text, where);
    if (!item)
        item = withBackup(item.fault(), file);
    ItemRead read{*std::move(text), std::move(item)};
    if (auto* coupler = read.item ? std::get_if<Coupler>(&*read.item) : nullptr; coupler && !coupler->older.empty())
        read.older = joinOlder(*coupler, historyFolder, read.historyFaults);
    return read;
}

std::optional<ItemRead> readItemFile(const fs::path& file)
{
    return readItemFile(file, file.parent_path());
}

std::optional<Fault> NamesSeen::clash(const Item& item, const fs::path& file)
{
    const auto [same, isNew] = files.emplace(std::pair(item.index(), nameOf(item)), file);
    if (isNew)
        return std::nullopt;
    return Fault{fmt::format("{}: name is {}, but {} holds another {} of that name; rename one or take it out of the "
                             "folder",
                             onOneLine(file.string()), inQuotes(nameOf(item)),
                             onOneLine(same->second.filename().string()), kindOf(item))};
}

namespace {

Fault looksLike(const Item& item, const fs::path& one, const fs::path& other)
{
    const auto file = onOneLine(other.filename().string());
    return {fmt::format("two {}s have names that look like {}: they are in {} and {}; rename one by its file: 'couplet "
                        "library rename {} NEW-NAME'",
                        kindOf(item), inQuotes(nameOf(item)), onOneLine(one.filename().string()), file, file)};
}

} // namespace

std::optional<Fault> NamesSeen::lookAlike(const Item& item, const fs::path& file)
{
    const auto [other, isNew] = looks.emplace(std::pair(item.index(), lookOf(nameOf(item))), file);
    return isNew ? std::nullopt : std::optional(looksLike(item, other->second, file));
}

Fault lookAlikesOf(const std::vector<const Entry*>& all)
{
    return looksLike(all[0]->item, all[0]->file, all[1]->file);
}

bool standsBefore(const Item& a, const Item& b)
{
    return std::pair(a.index(), std::string_view(nameOf(a))) < std::pair(b.index(), std::string_view(nameOf(b)));
}

FolderContent scanFolder(const fs::path& root)
{
    FolderContent content;
    auto found = filesIn(root, ".json");
    if (found.fault)
        content.unreadable.push_back({root, *found.fault});
    NamesSeen names;
    for (const auto& file : found.files) {
        auto read = readItemFile(file);
        if (!read)
            continue;
        if (!read->item)
            content.unreadable.push_back({file, read->item.fault()});
        else if (auto clash = names.clash(*read->item, file))
            content.unreadable.push_back({file, *std::move(clash)});
        else {
            if (auto alike = names.lookAlike(*read->item, file))
                content.lookAlikes.push_back(*std::move(alike));
            const auto& name = nameOf(*read->item);
            content.looks.emplace(std::pair(kindOf(*read->item), lookOf(name)), name);
            content.entries.push_back({file, std::move(read->text), *std::move(read->item), std::move(read->older)});
            for (auto& fault : read->historyFaults)
                content.unreadable.push_back({std::move(fault.file), std::move(fault.fault)});
        }
    }
    std::sort(content.entries.begin(), content.entries.end(),
              [](const Entry& a, const Entry& b) { return standsBefore(a.item, b.item); });
    return content;
}

} // namespace couplet
