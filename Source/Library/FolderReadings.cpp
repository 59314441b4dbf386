// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Folder.h"
#include "Library/FolderEdit.h"
#include "Library/Json.h"
#include "Library/SharedFolder.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <cerrno>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace couplet {
namespace {

namespace fs = std::filesystem;

// What stands in the file before the line: its size, and whether a crash left its last line torn.
struct End
{
    off_t size;
    bool torn;
};

Outcome<End> endOf(const Descriptor& file)
{
    struct stat status = {};
    if (::fstat(file.get(), &status) != 0)
        return reasonOf(errno);
    if (!S_ISREG(status.st_mode))
        return Fault{"it is no regular file"};
    char last = '\n';
    if (status.st_size > 0 && ::pread(file.get(), &last, 1, status.st_size - 1) != 1)
        return reasonOf(errno);
    return End{status.st_size, last != '\n'};
}

// A file of another user of the group that may only be read is replaced by one that all may write.
Outcome<Done> replaceOthers(const fs::path& path, const std::string& line, const Fault& reason)
{
    constexpr std::size_t anySize = std::size_t{1} << 30;
    auto text = contentOf(path, anySize);
    if (!text)
        return reason;
    const bool isTorn = !text->empty() && text->back() != '\n';
    if (auto replaced = replaceFile(path, *text + (isTorn ? "\n" : "") + line + "\n", false); !replaced)
        return reason;
    if (const auto ours = Descriptor::open(path, O_RDONLY))
        shareAsItsFolder(*ours, path.parent_path());
    return Done{};
}

// In one write where the system takes it whole; what it took of a line that does not fit is cut off again.
Outcome<Done> appendWhole(const fs::path& path, const std::string& line)
{
    auto file = Descriptor::open(path, O_RDWR | O_APPEND | O_CREAT);
    if (!file)
        return replaceOthers(path, line, file.fault());
    const auto end = endOf(*file);
    if (!end)
        return end.fault();
    shareAsItsFolder(*file, path.parent_path());
    auto written = file->writeAll((end->torn ? "\n" : "") + line + "\n");
    if (written)
        written = file->sync();
    if (!written) {
        if (::ftruncate(file->get(), end->size) != 0)
            return Fault{written.fault().sentence + ", and part of it stays in the file"};
        return written;
    }
    return file->close();
}

} // namespace

Outcome<Done> Folder::appendReading(const std::string& jsonLine) const
{
    if (jsonLine.find_first_of("\r\n") != std::string::npos)
        return Fault{"the reading was not kept: it has a line break in it, but must be one line of JSON"};
    if (const auto parsed = parsedJson(jsonLine, "the reading"); !parsed)
        return parsed.fault();
    const auto lock = lockedFolder(root);
    if (!lock)
        return Fault{"the reading was not kept: " + lock.fault().sentence};
    const auto path = root / "readings.jsonl";
    const auto appended = appendWhole(path, jsonLine);
    if (!appended)
        return Fault{fmt::format("the reading was not kept: {} could not be written ({}); make room or give write "
                                 "permission there",
                                 inQuotes(path.string()), appended.fault().sentence)};
    if (const auto synced = syncFolder(root); !synced)
        return Fault{fmt::format("the reading was written to {}, but may not last through a power cut ({}); check the "
                                 "disk",
                                 inQuotes(path.string()), synced.fault().sentence)};
    return Done{};
}

} // namespace couplet
