// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/FolderScan.h"

#include "Library/Descriptor.h"
#include "Library/Json.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace couplet {
namespace {

namespace fs = std::filesystem;

// Sorted, so that every run sees the folder in the same order. Names with a dot in front are others'
// (editors', ours while saving).
std::vector<fs::path> itemFilesIn(const fs::path& root, std::error_code& error)
{
    std::vector<fs::path> files;
    for (fs::directory_iterator i(root, error), end; !error && i != end; i.increment(error)) {
        const auto name = i->path().filename().string();
        if (name.front() != '.' && i->path().extension() == ".json")
            files.push_back(i->path());
    }
    std::sort(files.begin(), files.end());
    return files;
}

void add(FolderContent& content, const fs::path& file)
{
    const auto where = file.string();
    auto text = contentOf(file, largestJson_bytes);
    std::error_code error;
    if (!text && !fs::exists(fs::symlink_status(file, error)))
        return; // another program removed it meanwhile
    auto item = text ? itemFrom(*text, where)
                     : Outcome<Item>(Fault{fmt::format("{}: it could not be read ({}); give read permission or take it "
                                                       "out of the folder",
                                                       where, text.fault().sentence)});
    if (!item) {
        content.unreadable.push_back({file, item.fault()});
        return;
    }
    const auto kind = kindOf(*item);
    const auto& name = nameOf(*item);
    if (const auto* same = content.find(kind, name)) {
        content.unreadable.push_back({file,
                                      {fmt::format("{}: name is {}, but {} holds another {} of that name; rename "
                                                   "one or take it out of the folder",
                                                   where, inQuotes(name), same->file.filename().string(), kind)}});
        return;
    }
    content.entries.push_back({file, *std::move(text), *std::move(item)});
}

} // namespace

const Entry* FolderContent::find(const std::string& kind, const std::string& name) const
{
    const auto found = std::find_if(entries.begin(), entries.end(),
                                    [&](const Entry& e) { return nameOf(e.item) == name && kindOf(e.item) == kind; });
    return found == entries.end() ? nullptr : &*found;
}

const UnreadableFile* FolderContent::findUnreadable(const fs::path& file) const
{
    const auto found =
        std::find_if(unreadable.begin(), unreadable.end(), [&](const auto& u) { return u.file == file; });
    return found == unreadable.end() ? nullptr : &*found;
}

FolderContent scanFolder(const fs::path& root)
{
    FolderContent content;
    std::error_code error;
    const auto files = itemFilesIn(root, error);
    if (error && error != std::errc::no_such_file_or_directory)
        content.unreadable.push_back({root,
                                      {fmt::format("{}: the library's folder could not be read ({}); give read "
                                                   "permission or choose another with --library",
                                                   root.string(), error.message())}});
    for (const auto& file : files)
        add(content, file);
    std::sort(content.entries.begin(), content.entries.end(), [](const Entry& a, const Entry& b) {
        return std::tuple(a.item.index(), nameOf(a.item)) < std::tuple(b.item.index(), nameOf(b.item));
    });
    return content;
}

} // namespace couplet
