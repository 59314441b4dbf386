// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/VersionName.h"

#include "Library/IsoTime.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

namespace couplet {
namespace {

constexpr std::array<std::string_view, 3> marks = {"changed", "referenced", "removed"}; // as Replaced orders them
constexpr std::string_view ending = ".json";

// "20260503T120411Z" as "2026-05-03T12:04:11Z"; absent when it is no time.
std::optional<std::string> timeFrom(std::string_view plain)
{
    constexpr std::size_t size = std::string_view("20260503T120411Z").size();
    if (plain.size() != size)
        return std::nullopt;
    auto text = fmt::format("{}-{}-{}:{}:{}", plain.substr(0, 4), plain.substr(4, 2), plain.substr(6, 5),
                            plain.substr(11, 2), plain.substr(13));
    if (!instantFrom(text))
        return std::nullopt;
    return text;
}

} // namespace

std::string versionName(int number, const std::string& until, Replaced how)
{
    auto plain = until;
    std::erase(plain, '-');
    std::erase(plain, ':');
    return fmt::format("{:06}-{}-{}{}", number, plain, marks[static_cast<std::size_t>(how)], ending);
}

std::optional<VersionFile> versionNamed(const std::filesystem::path& file)
{
    const auto name = file.filename().string();
    VersionFile version;
    version.file = file;
    const auto read = std::from_chars(name.data(), name.data() + name.size(), version.number);
    const std::string_view rest(read.ptr, name.data() + name.size());
    const auto dash = rest.size() < 2 ? std::string_view::npos : rest.find('-', 1);
    if (read.ec != std::errc() || version.number < 1 || rest.front() != '-' || dash == std::string_view::npos ||
        !rest.ends_with(ending))
        return std::nullopt;
    auto until = timeFrom(rest.substr(1, dash - 1));
    auto mark = rest.substr(dash + 1);
    mark.remove_suffix(std::min(mark.size(), ending.size()));
    const auto* how = std::find(marks.begin(), marks.end(), mark);
    if (!until || how == marks.end())
        return std::nullopt;
    version.until = *std::move(until);
    version.how = static_cast<Replaced>(how - marks.begin());
    return version;
}

} // namespace couplet
