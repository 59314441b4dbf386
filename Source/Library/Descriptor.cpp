// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Descriptor.h"

#include "Library/SharedFolder.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <fcntl.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <vector>

namespace couplet {
namespace {

// A call that a signal interrupted is made again.
template <class Call> auto untilDone(Call call)
{
    auto result = call();
    while (result < 0 && errno == EINTR)
        result = call();
    return result;
}

// The name of a folder in the one above it. Where that one may not be opened, all of the file system is synced.
Outcome<Done> syncNameOf(const std::filesystem::path& folder)
{
    std::error_code error;
    const auto real = std::filesystem::canonical(folder, error);
    if (error)
        return reasonOf(error.value());
    const auto parent = real.parent_path();
#ifdef __linux__
    if (::access(parent.c_str(), R_OK) != 0) {
        const auto itself = Descriptor::open(real, O_RDONLY | O_DIRECTORY);
        if (itself && ::syncfs(itself->get()) == 0)
            return Done{};
    }
#endif
    return syncFolder(parent);
}

} // namespace

Fault reasonOf(int error)
{
    return {std::generic_category().message(error)};
}

Descriptor::~Descriptor()
{
    if (number >= 0)
        ::close(number);
}

Outcome<Descriptor> Descriptor::open(const std::filesystem::path& path, int flags, unsigned mode)
{
    const int opened = untilDone([&] { return ::open(path.c_str(), flags | O_CLOEXEC, mode); });
    if (opened < 0)
        return reasonOf(errno);
    return Descriptor(opened);
}

Outcome<Done> Descriptor::writeAll(std::string_view text) const
{
    while (!text.empty()) {
        const auto written = untilDone([&] { return ::write(number, text.data(), text.size()); });
        if (written < 0)
            return reasonOf(errno);
        text.remove_prefix(static_cast<std::size_t>(written));
    }
    return Done{};
}

Outcome<std::string> Descriptor::readAll(std::size_t most) const
{
    std::string text;
    char buffer[16384];
    while (text.size() <= most) {
        const auto wanted = std::min(sizeof buffer, most + 1 - text.size());
        const auto got = untilDone([&] { return ::read(number, buffer, wanted); });
        if (got < 0)
            return reasonOf(errno);
        if (got == 0)
            break;
        text.append(buffer, static_cast<std::size_t>(got));
    }
    return text;
}

Outcome<Done> Descriptor::sync() const
{
    if (untilDone([&] { return ::fsync(number); }) != 0)
        return reasonOf(errno);
    return Done{};
}

Outcome<Done> Descriptor::close()
{
    // Not made again when interrupted: Linux has closed it all the same.
    if (::close(std::exchange(number, -1)) != 0 && errno != EINTR)
        return reasonOf(errno);
    return Done{};
}

Outcome<std::string> contentOf(const std::filesystem::path& path, std::size_t most)
{
    // Not blocking, or a pipe of that name would hold the caller for ever.
    const auto file = Descriptor::open(path, O_RDONLY | O_NONBLOCK);
    if (!file)
        return file.fault();
    struct stat status = {};
    if (::fstat(file->get(), &status) != 0)
        return reasonOf(errno);
    if (!S_ISREG(status.st_mode))
        return Fault{"it is no regular file"};
    auto text = file->readAll(most);
    if (text && text->size() > most)
        return Fault{fmt::format("it is larger than {} MB", most >> 20)};
    return text;
}

Outcome<Done> syncFolder(const std::filesystem::path& path)
{
    const auto folder = Descriptor::open(path.empty() ? "." : path, O_RDONLY | O_DIRECTORY);
    if (!folder)
        return folder.fault();
    // EINVAL: a file system that cannot sync folders does without.
    if (::fsync(folder->get()) != 0 && errno != EINVAL)
        return reasonOf(errno);
    return Done{};
}

Outcome<Done> makeFolders(const std::filesystem::path& path)
{
    namespace fs = std::filesystem;
    std::error_code error;
    auto lowest = fs::absolute(path, error);
    if (!lowest.has_filename()) // "library/"
        lowest = lowest.parent_path();
    std::vector<fs::path> missing;
    for (; !fs::exists(lowest, error) && lowest.has_relative_path(); lowest = lowest.parent_path())
        missing.push_back(lowest);
    if (!fs::is_directory(lowest, error))
        return reasonOf(ENOTDIR);
    auto lasting = syncNameOf(lowest);
    for (; lasting && !missing.empty(); missing.pop_back()) {
        const auto& folder = missing.back();
        if (::mkdir(folder.c_str(), 0777) == 0)
            shareFolderAsParent(folder);
        else if (errno != EEXIST || !fs::is_directory(folder, error))
            return reasonOf(errno);
        lasting = syncNameOf(folder);
    }
    return lasting;
}

} // namespace couplet
