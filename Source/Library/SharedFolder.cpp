// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/SharedFolder.h"

#include <optional>
#include <sys/stat.h>
#include <unistd.h>

namespace couplet {
namespace {

std::optional<struct stat> statusOf(const Descriptor& file)
{
    struct stat status = {};
    return ::fstat(file.get(), &status) == 0 ? std::optional(status) : std::nullopt;
}

std::optional<struct stat> statusOf(const std::filesystem::path& path)
{
    struct stat status = {};
    return ::stat(path.empty() ? "." : path.c_str(), &status) == 0 ? std::optional(status) : std::nullopt;
}

// Whether the file has that group by now. Only an owner may give it, and only a group that he is in.
bool hasGroup(const Descriptor& file, gid_t group)
{
    const auto status = statusOf(file);
    return status && (status->st_gid == group || ::fchown(file.get(), static_cast<uid_t>(-1), group) == 0);
}

} // namespace

void shareAsItsFolder(const Descriptor& file, const std::filesystem::path& folder)
{
    const auto around = statusOf(folder), own = statusOf(file);
    if (!around || !own || (around->st_mode & S_IWGRP) == 0 || !hasGroup(file, around->st_gid))
        return;
    const auto wanted = own->st_mode | (around->st_mode & (S_IRGRP | S_IWGRP));
    if (wanted != own->st_mode && ::fchmod(file.get(), wanted & 0777) != 0)
        return; // as it is
}

void keepGroup(const std::filesystem::path& fresh, const std::filesystem::path& before)
{
    const auto old = statusOf(before), now = statusOf(fresh);
    if (old && now && old->st_gid != now->st_gid && ::lchown(fresh.c_str(), static_cast<uid_t>(-1), old->st_gid) != 0)
        return; // as it is
}

void shareFolderAsParent(const std::filesystem::path& folder)
{
    const auto around = statusOf(folder.parent_path()), own = statusOf(folder);
    const bool isShared = around && (around->st_mode & S_ISGID) != 0 && (around->st_mode & S_IWGRP) != 0;
    if (!isShared || !own || own->st_gid != around->st_gid)
        return;
    const auto wanted = own->st_mode | S_ISGID | (around->st_mode & S_IRWXG);
    if (wanted != own->st_mode && ::chmod(folder.c_str(), wanted & 07777) != 0)
        return; // as it is
}

} // namespace couplet
