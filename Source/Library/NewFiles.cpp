// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/NewFiles.h"

#include "Library/Descriptor.h"
#include "Library/FolderEdit.h"
#include "Library/SharedFolder.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <atomic>
#include <fcntl.h>
#include <optional>
#include <system_error>
#include <thread>
#include <unistd.h>

namespace couplet {
namespace {

namespace fs = std::filesystem;

// A disk makes many files durable in one go when they wait for it together.
constexpr std::size_t mostThreads = 16, filesAThread = 8;

// A name that the sweep of a library's folder knows (FolderLock), and that no other save gives.
fs::path nameBeside(const fs::path& folder)
{
    static std::atomic<unsigned> count{0};
    return folder / fmt::format(".couplet-{}-n{}.tmp", ::getpid(), count++);
}

Outcome<Done> writeNew(const fs::path& path, std::string_view text)
{
    ::unlink(path.c_str()); // left over from a process of the same number that crashed
    auto file = Descriptor::open(path, O_WRONLY | O_CREAT | O_EXCL);
    if (!file)
        return file.fault();
    shareAsItsFolder(*file, path.parent_path());
    if (auto written = file->writeAll(text); !written)
        return written;
    return file->close();
}

// By another descriptor than it was written with: many files, few descriptors.
Outcome<Done> syncAndReadBack(const fs::path& path, const std::string& text)
{
    const auto file = Descriptor::open(path, O_RDONLY);
    if (!file)
        return file.fault();
    if (auto synced = file->sync(); !synced)
        return synced;
    const auto content = file->readAll(text.size());
    if (!content)
        return content.fault();
    return *content == text ? Outcome<Done>(Done{}) : Fault{"what was read back is not what was written"};
}

Fault notWritten(const fs::path& target, const std::string& why)
{
    return {fmt::format("{} could not be written ({}); make room or give write permission there",
                        inQuotes(target.string()), why)};
}

} // namespace

NewFiles::~NewFiles()
{
    clear();
}

void NewFiles::clear()
{
    for (const auto& file : files)
        ::unlink(file.path.c_str());
    files.clear();
}

Outcome<Done> NewFiles::write(const std::string& name, std::string text)
{
    files.push_back({nameBeside(folder), folder / name, std::move(text)});
    const auto& file = files.back();
    const auto written = writeNew(file.path, file.text);
    return written ? written : notWritten(file.target, written.fault().sentence);
}

Outcome<Done> NewFiles::syncAll() const
{
    std::vector<std::optional<Fault>> faults(files.size());
    std::atomic<std::size_t> next{0};
    const auto work = [&] {
        for (auto i = next++; i < files.size(); i = next++)
            if (auto synced = syncAndReadBack(files[i].path, files[i].text); !synced)
                faults[i] = synced.fault();
    };
    {
        std::vector<std::jthread> helpers;
        try {
            while (helpers.size() + 1 < std::min(mostThreads, files.size() / filesAThread))
                helpers.emplace_back(work);
        } catch (const std::system_error&) { // no more threads: those that there are do it
        }
        work();
    }
    for (std::size_t i = 0; i < files.size(); ++i)
        if (faults[i])
            return notWritten(files[i].target, faults[i]->sentence);
    return Done{};
}

Outcome<Done> NewFiles::put()
{
    auto done = files.empty() ? Outcome<Done>(Done{}) : syncAll();
    for (const auto& file : files) {
        if (!done)
            break;
        if (const auto moved = moveFile(file.path, file.target); !moved)
            done = notWritten(file.target, moved.fault().sentence);
    }
    if (done && !files.empty())
        if (const auto synced = syncFolder(folder); !synced)
            done = Fault{fmt::format("{} was written, but may not last through a power cut ({}); check the disk and "
                                     "save again",
                                     inQuotes(files.back().target.string()), synced.fault().sentence)};
    clear();
    return done;
}

} // namespace couplet
