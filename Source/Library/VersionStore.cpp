// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/VersionStore.h"

#include "Library/Descriptor.h"
#include "Library/FileName.h"
#include "Library/FolderEdit.h"
#include "Library/FolderLock.h"
#include "Library/Json.h"
#include "Library/Utf8.h"
#include "Library/VersionName.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace couplet {
namespace {

namespace fs = std::filesystem;

constexpr const char* storeName = ".versions";

// A new folder has its parent's group and permissions: a library may be a group's. Who is not of the group leaves it as
// the system made it.
Outcome<Done> makeFolder(const fs::path& folder)
{
    if (::mkdir(folder.c_str(), 0777) != 0)
        return errno == EEXIST ? Outcome<Done>(Done{}) : reasonOf(errno);
    struct stat around = {}, own = {};
    if (::stat(folder.parent_path().c_str(), &around) != 0 || ::stat(folder.c_str(), &own) != 0)
        return reasonOf(errno);
    const bool isOfGroup =
        own.st_gid == around.st_gid || ::chown(folder.c_str(), static_cast<uid_t>(-1), around.st_gid) == 0;
    if (isOfGroup && ::chmod(folder.c_str(), around.st_mode & 07777) != 0)
        return reasonOf(errno);
    return Done{};
}

// The file's own folder, and those above it up to the library's: what was begun before may have made them.
Outcome<Done> syncUpward(const fs::path& folder)
{
    for (const auto& each : {folder, folder.parent_path(), folder.parent_path().parent_path()})
        if (auto synced = syncFolder(each); !synced)
            return synced;
    return Done{};
}

// A second name, of what a symbolic link points to; a copy where the file system has no such thing.
Outcome<Done> linkOrCopy(const Entry& entry, const fs::path& version)
{
    if (::linkat(AT_FDCWD, entry.file.c_str(), AT_FDCWD, version.c_str(), AT_SYMLINK_FOLLOW) == 0)
        return syncFolder(version.parent_path());
    return replaceFile(version, entry.text, false);
}

Outcome<Done> keepIn(const fs::path& folder, const Entry& entry, Replaced how)
{
    const auto files = versionFilesIn(folder);
    if (!files)
        return files.fault();
    const auto* newest = files->empty() ? nullptr : &files->back();
    const bool goesOn = newest && how == Replaced::byMoreReferences && newest->how == how;
    if (goesOn)
        return Done{};
    const auto next = folder / versionName(newest ? newest->number + 1 : 1, timeNow(), how);
    const auto last = newest ? contentOf(newest->file, entry.text.size()) : Outcome<std::string>(std::string());
    const bool isThere = newest && last && *last == entry.text;
    auto kept = isThere ? moveFile(newest->file, folder / versionName(newest->number, timeNow(), how))
                        : linkOrCopy(entry, next);
    return kept && (isThere || !newest) ? syncUpward(folder) : kept;
}

Outcome<Done> keep(const fs::path& root, const Entry& entry, Replaced how, const FolderContent& content)
{
    if (auto made = makeFolder(root / storeName); !made)
        return made;
    const auto own = versionFolder(root, entry.item), found = versionFolderOf(root, entry, content);
    if (found != own)
        (void)moveFile(found, own); // what stays there is still found
    if (auto made = makeFolder(own); !made)
        return made;
    return keepIn(own, entry, how);
}

bool isEmptyOrAbsent(const fs::path& folder)
{
    std::error_code error;
    return fs::is_empty(folder, error) || error;
}

// The names of folders that items have.
std::vector<fs::path> takenFolders(const fs::path& root, const FolderContent& content)
{
    std::vector<fs::path> taken;
    for (const auto& entry : content.entries)
        taken.push_back(versionFolder(root, entry.item));
    std::sort(taken.begin(), taken.end());
    return taken;
}

// Whether the last text in the folder is the entry's under another name: what a rename leaves that was cut short.
bool endsAs(const fs::path& folder, const Entry& entry)
{
    const auto files = versionFilesIn(folder);
    if (!files || files->empty() || files->back().how != Replaced::byChange)
        return false;
    const auto last = readItemFile(files->back().file, folder.parent_path().parent_path());
    if (!last || !last->item || last->item->index() != entry.item.index())
        return false;
    auto item = *last->item;
    std::visit([&](auto& each) { each.name = nameOf(entry.item); }, item);
    return item == entry.item;
}

} // namespace

fs::path versionFolder(const fs::path& root, const Item& item)
{
    return root / storeName / fs::path(fileNameOf(item)).stem();
}

Outcome<std::vector<VersionFile>> versionFilesIn(const fs::path& folder)
{
    std::vector<VersionFile> files;
    std::error_code error;
    for (fs::directory_iterator i(folder, error), end; !error && i != end; i.increment(error))
        if (auto version = versionNamed(i->path()))
            files.push_back(*std::move(version));
    if (error && error != std::errc::no_such_file_or_directory)
        return Fault{error.message()};
    const auto isOlder = [](const VersionFile& a, const VersionFile& b) {
        return std::tie(a.number, a.file) < std::tie(b.number, b.file);
    };
    std::sort(files.begin(), files.end(), isOlder);
    return files;
}

fs::path versionFolderOf(const fs::path& root, const Entry& entry, const FolderContent& content)
{
    const auto own = versionFolder(root, entry.item);
    if (!isEmptyOrAbsent(own))
        return own;
    const auto taken = takenFolders(root, content);
    auto kind = kindOf(entry.item);
    std::replace(kind.begin(), kind.end(), ' ', '-');
    std::error_code error;
    for (fs::directory_iterator i(root / storeName, error), end; !error && i != end; i.increment(error))
        if (i->path().filename().string().starts_with(kind + "-") &&
            !std::binary_search(taken.begin(), taken.end(), i->path()) && endsAs(i->path(), entry))
            return i->path();
    return own;
}

Outcome<Done> keepVersion(const fs::path& root, const Entry& entry, Replaced how, const FolderContent& content)
{
    const auto kept = keep(root, entry, how, content);
    if (kept || how == Replaced::byMoreReferences)
        return Done{};
    return Fault{fmt::format("the version before could not be kept in {} ({}), so nothing was overwritten; make room "
                             "or give write permission there",
                             inQuotes((root / storeName).string()), kept.fault().sentence)};
}

void takeBackVersion(const fs::path& root, const Entry& entry)
{
    const auto folder = versionFolder(root, entry.item);
    const auto files = versionFilesIn(folder);
    if (!files || files->empty())
        return;
    const auto holdsText = [&](const fs::path& file) {
        const auto text = contentOf(file, entry.text.size());
        return text && *text == entry.text;
    };
    // A save may fail after it replaced the text, when it could not be made to last.
    if (holdsText(entry.file) && holdsText(files->back().file))
        ::unlink(files->back().file.c_str());
    ::rmdir(folder.c_str()); // each goes only when it is empty
    ::rmdir(folder.parent_path().c_str());
}

void pruneVersions(const fs::path& root, const Item& item)
{
    const auto folder = versionFolder(root, item);
    const auto files = versionFilesIn(folder);
    if (!files)
        return;
    int overwritten = 0;
    for (auto file = files->rbegin(); file != files->rend(); ++file) {
        if (overwritten >= keptVersions)
            ::unlink(file->file.c_str());
        else if (file->how != Replaced::byMoreReferences)
            ++overwritten;
    }
    std::error_code error;
    for (const auto& left : leftByTheDead(folder))
        fs::remove(left, error);
}

void moveVersions(const fs::path& root, const Item& before, const Item& after)
{
    const auto from = versionFolder(root, before), to = versionFolder(root, after);
    if (std::rename(from.c_str(), to.c_str()) == 0) {
        (void)syncFolder(root / storeName); // lost in a power cut, it is found by what it holds
        return;
    }
    const auto moving = versionFilesIn(from), there = versionFilesIn(to);
    if (!moving || !there)
        return;
    int number = there->empty() ? 0 : there->back().number;
    for (const auto& each : *moving)
        if (!moveFile(each.file, to / versionName(++number, each.until, each.how)))
            return;
    ::rmdir(from.c_str());
    (void)syncFolder(to);
}

bool isMoreReferences(const Item& before, const Item& after)
{
    const auto *old = std::get_if<Coupler>(&before), *next = std::get_if<Coupler>(&after);
    if (!old || !next || old->references.size() >= next->references.size())
        return false;
    auto at = next->references.begin();
    for (const auto& reference : old->references) {
        at = std::find(at, next->references.end(), reference);
        if (at == next->references.end())
            return false;
        ++at;
    }
    auto a = *old, b = *next;
    a.references.clear();
    b.references.clear();
    return a == b;
}

} // namespace couplet
