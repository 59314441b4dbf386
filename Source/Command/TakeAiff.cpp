// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/TakeChunks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr auto order = ByteOrder::big;
constexpr std::size_t plainCommonSize = 18;
constexpr std::size_t namedCommonSize = 22; // with the compression's name
constexpr std::uint64_t soundHeadSize = 8;  // offset and block size in front of the samples

// The 80-bit extended format of IEEE 754: sign and exponent in two bytes, then the whole significand.
double extendedAt(const unsigned char* bytes)
{
    const auto head = static_cast<int>(numberAt(bytes, 2, order));
    const double magnitude = std::ldexp(static_cast<double>(numberAt(bytes + 2, 8, order)), (head & 0x7FFF) - 16446);
    return (head & 0x8000) != 0 ? -magnitude : magnitude;
}

// What a compression's name stands for; false for one that is not read.
bool applyCompression(const std::string& name, TakeFormat& format)
{
    format.bigEndian = name != "sowt";
    if (name == "NONE" || name == "twos" || name == "sowt")
        return true;
    const bool isSingle = name == "fl32" || name == "FL32";
    const bool isDouble = name == "fl64" || name == "FL64";
    format.encoding = Encoding::floatingPoint;
    format.bits = isSingle ? 32 : 64;
    format.bytesPerSample = format.bits / 8;
    return isSingle || isDouble;
}

struct Common
{
    TakeFormat format;
    std::uint64_t frames = 0;
};

Outcome<Common> commonIn(const Chunk& chunk, const TakeBytes& bytes, const std::string& where)
{
    unsigned char fields[namedCommonSize] = {};
    const auto size = std::min<std::size_t>(chunk.length, sizeof fields);
    if (size < plainCommonSize)
        return notRead(where, fmt::format("its 'COMM' chunk at byte {} is too short", chunk.body - 8),
                       "copy or record it again");
    if (!bytes.at(chunk.body, fields, size))
        return endsInHeader(where);
    Common common;
    auto& format = common.format;
    format.channels = static_cast<int>(numberAt(fields, 2, order));
    common.frames = numberAt(fields + 2, 4, order);
    format.bits = static_cast<int>(numberAt(fields + 6, 2, order));
    format.bytesPerSample = (format.bits + 7) / 8;
    format.sampleRate_Hz = extendedAt(fields + 8);
    const auto compression = size == namedCommonSize ? std::string(fields + 18, fields + 22) : std::string("NONE");
    if (!applyCompression(compression, format))
        return notRead(where, "its samples are compressed in a way that is not read",
                       "convert it to a WAV of 24-bit samples");
    return common;
}

// The length stands in the file twice: as frames, and as the size of the chunk that holds them.
Outcome<Promise> promiseOf(const Common& common, const Chunk& sound, const TakeBytes& bytes, const std::string& where)
{
    unsigned char offset[4];
    if (!bytes.at(sound.body, offset, sizeof offset))
        return endsInHeader(where);
    const auto head = soundHeadSize + numberAt(offset, 4, order);
    Promise promise;
    promise.start = sound.body + head;
    promise.bytes = common.frames * common.format.bytesPerFrame();
    const auto room = sound.length - std::min(head, sound.length);
    // A chunk without room in front of what is neither its end nor another chunk: its length was never corrected.
    const bool isFollowed = promise.bytes == 0 && chunkStandsAt(bytes, endOf(sound), order);
    promise.unfinished = room == 0 && promise.start < bytes.size && !isFollowed;
    if (!promise.unfinished && promise.bytes > room)
        return notRead(where,
                       "its header contradicts itself: it promises more samples than its 'SSND' chunk has room for",
                       "copy it again, or save it again with an audio editor");
    return promise;
}

} // namespace

Outcome<TakeFormat> aiffFormatOf(const TakeBytes& bytes, const std::string& where)
{
    std::optional<Chunk> description, sound;
    std::uint64_t place = 12;
    for (int i = 0; i < mostChunks && !(description && sound); ++i) {
        const auto chunk = chunkAt(bytes, place, order);
        if (!chunk)
            break;
        if (chunk->id == "COMM" && !description)
            description = chunk;
        if (chunk->id == "SSND" && !sound)
            sound = chunk;
        place = endOf(*chunk);
    }
    if (!description && sound)
        return notRead(where, "it has samples and no 'COMM' chunk that describes them", "copy or record it again");
    if (!description)
        return endsInHeader(where);
    const auto common = commonIn(*description, bytes, where);
    if (!common)
        return common.fault();
    if (!sound)
        return common->frames == 0 ? checkedFormat(common->format, {}, bytes, where)
                                   : Outcome<TakeFormat>(endsInHeader(where));
    const auto promise = promiseOf(*common, *sound, bytes, where);
    if (!promise)
        return promise.fault();
    return checkedFormat(common->format, *promise, bytes, where);
}

} // namespace couplet
