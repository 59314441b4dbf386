// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/TakeChunks.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

namespace couplet {
namespace {

constexpr auto order = ByteOrder::little;
constexpr std::uint64_t unknownLength = 0xFFFFFFFF;
constexpr std::size_t plainFormatSize = 16;
constexpr std::size_t extensibleFormatSize = 40;
constexpr int extensibleTag = 0xFFFE; // the real tag begins the sub-format, 24 bytes in

std::string nameOfTag(int tag)
{
    switch (tag) {
    case 0x02:
    case 0x11:
        return "ADPCM";
    case 0x06:
        return "A-law";
    case 0x07:
        return "mu-law";
    case 0x50:
    case 0x55:
        return "MPEG audio";
    default:
        return fmt::format("format 0x{:04X}", tag);
    }
}

Outcome<TakeFormat> formatIn(const Chunk& chunk, const TakeBytes& bytes, const std::string& where)
{
    unsigned char fields[extensibleFormatSize] = {};
    const auto size = std::min<std::size_t>(chunk.length, sizeof fields);
    if (size < plainFormatSize)
        return notRead(where, fmt::format("its 'fmt ' chunk at byte {} is too short", chunk.body - 8),
                       "copy or record it again");
    if (!bytes.at(chunk.body, fields, size))
        return endsInHeader(where);
    const auto field = [&](int place, int count) {
        return static_cast<std::uint32_t>(numberAt(fields + place, count, order));
    };
    auto tag = static_cast<int>(field(0, 2));
    if (tag == extensibleTag && size == extensibleFormatSize)
        tag = static_cast<int>(field(24, 2));
    if (tag != 1 && tag != 3)
        return notRead(where, fmt::format("its samples are {}, which is not read", nameOfTag(tag)),
                       "convert it to a WAV of 24-bit samples");
    TakeFormat format;
    format.channels = static_cast<int>(field(2, 2));
    format.sampleRate_Hz = field(4, 4);
    format.bits = static_cast<int>(field(14, 2));
    format.bytesPerSample = (format.bits + 7) / 8;
    format.encoding = tag == 3                     ? Encoding::floatingPoint
                      : format.bytesPerSample == 1 ? Encoding::unsignedInteger
                                                   : Encoding::signedInteger;
    const auto block = field(12, 2);
    if (block != 0 && block != (format.bytesPerFrame() & 0xFFFF))
        return notRead(where,
                       fmt::format("its header contradicts itself: {} channels of {} bits are not {} bytes",
                                   format.channels, format.bits, block),
                       "save it again with an audio editor");
    return format;
}

// Samples of length 0: either so meant, and then the file ends or another chunk follows; or never corrected.
bool wasNeverWritten(const Chunk& data, const TakeBytes& bytes)
{
    return data.length == 0 && data.body < bytes.size && !chunkStandsAt(bytes, data.body, order);
}

} // namespace

Outcome<TakeFormat> wavFormatOf(const TakeBytes& bytes, const std::string& where)
{
    std::optional<Chunk> description, data;
    std::optional<std::uint64_t> longLength; // RF64 and BW64: lengths above 4 GB
    std::uint64_t place = 12;
    for (int i = 0; i < mostChunks && !(description && data); ++i) {
        auto chunk = chunkAt(bytes, place, order);
        if (!chunk)
            break;
        if (chunk->id == "ds64") {
            unsigned char lengths[16];
            if (chunk->length < sizeof lengths || !bytes.at(chunk->body, lengths, sizeof lengths))
                return endsInHeader(where);
            longLength = numberAt(lengths + 8, 8, order);
        }
        if (chunk->id == "data" && chunk->length == unknownLength && longLength)
            chunk->length = *longLength == std::numeric_limits<std::uint64_t>::max() ? unknownLength : *longLength;
        if (chunk->id == "fmt " && !description)
            description = chunk;
        if (chunk->id == "data" && !data)
            data = chunk;
        if (chunk->length > bytes.size)
            break; // nothing can follow
        place = endOf(*chunk);
    }
    if (!description && data)
        return notRead(where, "it has samples and no 'fmt ' chunk that describes them", "copy or record it again");
    if (!description || !data)
        return endsInHeader(where);
    const auto format = formatIn(*description, bytes, where);
    if (!format)
        return format.fault();
    const bool unfinished = data->length == unknownLength || wasNeverWritten(*data, bytes);
    return checkedFormat(*format, {data->body, data->length, unfinished}, bytes, where);
}

} // namespace couplet
