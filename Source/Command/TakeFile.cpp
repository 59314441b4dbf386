// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/TakeFile.h"

#include "Command/Progress.h"
#include "Command/SampleDecoding.h"
#include "Library/NearNames.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <fcntl.h>
#include <sys/stat.h>

namespace couplet {
namespace {

namespace fs = std::filesystem;

constexpr std::uint64_t mostBytesAtOnce = 4u << 20; // a header may promise 65535 channels

// Files beside it with a name like it.
std::string nearFiles(const fs::path& path)
{
    std::vector<std::string> names;
    std::error_code error;
    const auto folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
    for (fs::directory_iterator i(folder, error), end; !error && i != end; i.increment(error))
        names.push_back(i->path().filename().string());
    std::string list;
    for (const auto& name : nearNames(path.filename().string(), names))
        list += (list.empty() ? "" : ", ") + inQuotes(name);
    return list;
}

Fault notOpened(const fs::path& path, const std::string& where, int error)
{
    if (error == ENOENT || error == ENOTDIR) {
        const auto near = nearFiles(path);
        return {fmt::format("{}: there is no such file; {}", where,
                            near.empty() ? "check its name and folder" : "near: " + near)};
    }
    const auto* mend = error == EACCES ? "give read permission" : "check its name";
    return {fmt::format("{}: it cannot be opened ({}); {}", where, reasonOf(error).sentence, mend)};
}

} // namespace

Outcome<TakeFile> TakeFile::open(const fs::path& path)
{
    const auto where = onOneLine(path.string());
    // Not blocking, or a pipe of that name would hold the caller for ever.
    auto file = Descriptor::open(path, O_RDONLY | O_NONBLOCK);
    if (!file)
        return notOpened(path, where, errno);
    struct stat status = {};
    if (::fstat(file->get(), &status) != 0)
        return notOpened(path, where, errno);
    if (S_ISDIR(status.st_mode))
        return Fault{fmt::format("{}: it is a folder; name a WAV or AIFF file", where)};
    if (!S_ISREG(status.st_mode))
        return Fault{fmt::format("{}: it is no regular file; name a WAV or AIFF file", where)};
    TakeBytes bytes{*std::move(file), static_cast<std::uint64_t>(status.st_size)};
    const auto format = takeFormatOf(bytes, where);
    if (!format)
        return format.fault();
    return TakeFile(where, std::move(bytes), *format);
}

std::string TakeFile::fileName() const
{
    return fs::path(where).filename().string();
}

Outcome<Done> TakeFile::checkChannel(int channel, std::string_view option) const
{
    if (channel >= 1 && channel <= format.channels)
        return Done{};
    return Fault{fmt::format("{}: it has {} channel{}, and --{} {} is not there; write 1{}", where, format.channels,
                             format.channels == 1 ? "" : "s", option, channel,
                             format.channels == 1 ? "" : fmt::format(" to {}", format.channels))};
}

Outcome<Done> TakeFile::read(const std::vector<int>& channels, const Block& block) const
{
    for (const int channel : channels)
        if (auto there = checkChannel(channel, "channel"); !there)
            return there;
    const auto frameBytes = format.bytesPerFrame();
    const auto most = std::clamp<std::uint64_t>(mostBytesAtOnce / frameBytes, 1, largestBlock);
    std::vector<unsigned char> raw(most * frameBytes);
    std::vector<float> samples(most * channels.size());
    std::vector<const float*> pointers;
    for (std::size_t c = 0; c < channels.size(); ++c)
        pointers.push_back(samples.data() + c * most);

    Progress progress(duration_s());
    for (std::uint64_t done = 0; done < format.frames;) {
        const auto count = std::min(most, format.frames - done);
        if (!bytes.at(format.start + done * frameBytes, raw.data(), count * frameBytes))
            return Fault{fmt::format("{}: it could not be read beyond {:.3f} s; check the disk, or copy it again",
                                     where, static_cast<double>(done) / format.sampleRate_Hz)};
        for (std::size_t c = 0; c < channels.size(); ++c)
            decodeChannel(raw.data(), static_cast<int>(count), format, channels[c] - 1, samples.data() + c * most);
        block(pointers.data(), static_cast<int>(count));
        done += count;
        progress.reached(static_cast<double>(done) / static_cast<double>(format.frames));
    }
    return Done{};
}

} // namespace couplet
