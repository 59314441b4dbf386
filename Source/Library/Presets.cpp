// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Presets.h"

#include "Library/Descriptor.h"
#include "Library/FolderLock.h"
#include "Library/FolderScan.h"
#include "Library/PresetTexts.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstdio>
#include <unistd.h>

namespace couplet {
namespace {

namespace fs = std::filesystem;

// A folder that goes away unless it was renamed.
class NewFolder
{
public:
    explicit NewFolder(const fs::path& beside)
    {
        static std::atomic<unsigned> count{0};
        path = beside / fmt::format(".couplet-{}-{}.tmp", ::getpid(), count++);
        clear();
    }
    NewFolder(const NewFolder&) = delete;
    NewFolder& operator=(const NewFolder&) = delete;
    ~NewFolder() { clear(); }

    fs::path path;

private:
    void clear() const
    {
        std::error_code ignored;
        fs::remove_all(path, ignored);
    }
};

// "library/" and "library" are one place.
fs::path withoutSlash(const fs::path& path)
{
    return path.has_filename() ? path : path.parent_path();
}

Fault notStarted(const fs::path& root, const std::string& why)
{
    return {fmt::format("the library {} could not be started ({}); give write permission there or choose another with "
                        "--library",
                        inQuotes(root.string()), why)};
}

} // namespace

const std::vector<Item>& presets()
{
    static const auto all = [] {
        std::vector<Item> items;
        for (const auto text : presetTexts())
            if (auto item = itemFrom(text, "a preset")) // each is read in a test
                items.push_back(*std::move(item));
        std::sort(items.begin(), items.end(), standsBefore);
        return items;
    }();
    return all;
}

Outcome<Done> startLibrary(const Folder& folder)
{
    const auto root = withoutSlash(folder.path());
    std::error_code error;
    if (fs::exists(fs::symlink_status(root, error)))
        return Done{};
    const auto parent = root.has_parent_path() ? root.parent_path() : fs::path(".");
    if (const auto made = makeFolders(parent); !made)
        return notStarted(root, made.fault().sentence);
    for (const auto& left : leftByTheDead(parent))
        fs::remove_all(left, error);
    const NewFolder fresh(parent);
    for (const auto& item : presets())
        if (const auto saved = Folder(fresh.path).save(item); !saved)
            return notStarted(root, saved.fault().sentence);
    // Whoever saves first makes the folder's name last, should this one be stopped before it has done so.
    fs::remove(fresh.path / ".lock", error);
    if (std::rename(fresh.path.c_str(), root.c_str()) == 0)
        return syncFolder(parent);
    if (errno == EEXIST || errno == ENOTEMPTY)
        return Done{}; // another program started it meanwhile
    return notStarted(root, reasonOf(errno).sentence);
}

} // namespace couplet
