// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/TakeFormat.h"

#include "Command/TakeChunks.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

constexpr std::size_t headSize = 12;

// What else the first bytes may be, in words; empty when they are nothing known.
std::string otherAudioIn(const std::string& head)
{
    const auto second = static_cast<unsigned char>(head.size() > 1 ? head[1] : 0);
    if (head.starts_with("fLaC"))
        return "FLAC";
    if (head.starts_with("OggS"))
        return "Ogg";
    if (head.starts_with("ID3") || (head.starts_with('\xFF') && (second & 0xE0) == 0xE0 && (second & 0x06) != 0))
        return "MP3";
    if (head.size() >= 8 && head.compare(4, 4, "ftyp") == 0)
        return "MPEG-4";
    if (head.starts_with("caff"))
        return "CAF";
    if (head.starts_with("riff"))
        return "Wave64";
    return {};
}

} // namespace

Outcome<TakeFormat> takeFormatOf(const TakeBytes& bytes, const std::string& where)
{
    if (bytes.size == 0)
        return notRead(where, "it is empty", "record it again, or name another file");
    std::string head(std::min<std::uint64_t>(bytes.size, headSize), '\0');
    if (!bytes.at(0, head.data(), head.size()))
        return notRead(where, "it cannot be read", "check the disk, or copy it again");
    const auto family = head.substr(0, 4);
    const auto kind = head.size() == headSize ? head.substr(8) : std::string();
    const bool isRiff = family == "RIFF" || family == "RF64" || family == "BW64";
    if ((isRiff || family == "FORM") && kind.empty())
        return endsInHeader(where);
    if (isRiff && kind == "WAVE")
        return wavFormatOf(bytes, where);
    if (family == "FORM" && (kind == "AIFF" || kind == "AIFC"))
        return aiffFormatOf(bytes, where);
    const auto other = otherAudioIn(head);
    if (!other.empty())
        return notRead(where, fmt::format("it is {}, and a take is WAV or AIFF", other), "convert it to WAV");
    return notRead(where, "it is no audio file that can be read", "name a WAV or AIFF file (.wav, .aif, .aiff)");
}

} // namespace couplet
