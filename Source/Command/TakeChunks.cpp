// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/TakeChunks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <unistd.h>

namespace couplet {
namespace {

constexpr const char* copyAgain = "copy or record it again";

// Enough digits to tell the two durations apart, and no exponent.
std::string secondsText(std::uint64_t bytes, const TakeFormat& format)
{
    const auto frames = bytes / format.bytesPerFrame();
    return fmt::format("{:.3f} s", static_cast<double>(frames) / format.sampleRate_Hz);
}

std::optional<Fault> faultOf(const TakeFormat& format, const std::string& where)
{
    if (format.channels < 1)
        return notRead(where, "its header says that it has no channels", copyAgain);
    const double rate = format.sampleRate_Hz;
    if (!(rate >= lowestRate_Hz && rate <= highestRate_Hz))
        return notRead(
            where, fmt::format("its header says a sample rate of {:.10g} Hz, but 8 kHz to 384 kHz can be read", rate),
            "correct the header or record it again");
    const bool isFloat = format.encoding == Encoding::floatingPoint;
    const int bytes = format.bytesPerSample;
    if (isFloat ? bytes != 4 && bytes != 8 : bytes < 1 || bytes > 4)
        return notRead(where, fmt::format("its samples have {} bits, which is not read", format.bits),
                       "convert it to 16, 24 or 32 bits");
    return std::nullopt;
}

} // namespace

bool TakeBytes::at(std::uint64_t place, void* into, std::size_t count) const
{
    if (place > size || count > size - place)
        return false;
    auto* bytes = static_cast<char*>(into);
    while (count > 0) {
        const auto got = ::pread(file.get(), bytes, count, static_cast<off_t>(place));
        if (got < 0 && errno == EINTR)
            continue;
        if (got <= 0)
            return false;
        bytes += got;
        place += static_cast<std::uint64_t>(got);
        count -= static_cast<std::size_t>(got);
    }
    return true;
}

std::uint64_t numberAt(const unsigned char* bytes, int count, ByteOrder order)
{
    std::uint64_t number = 0;
    for (int i = 0; i < count; ++i)
        number = number << 8 | bytes[order == ByteOrder::big ? i : count - 1 - i];
    return number;
}

std::optional<Chunk> chunkAt(const TakeBytes& bytes, std::uint64_t place, ByteOrder order)
{
    unsigned char head[8];
    if (!bytes.at(place, head, sizeof head))
        return std::nullopt;
    return Chunk{std::string(head, head + 4), place + sizeof head, numberAt(head + 4, 4, order)};
}

std::uint64_t endOf(const Chunk& chunk)
{
    return chunk.body + chunk.length + chunk.length % 2;
}

bool chunkStandsAt(const TakeBytes& bytes, std::uint64_t place, ByteOrder order)
{
    const auto chunk = chunkAt(bytes, place, order);
    const auto isPrintable = [](char c) { return c >= ' ' && c <= '~'; };
    return chunk && chunk->body + chunk->length <= bytes.size &&
           std::all_of(chunk->id.begin(), chunk->id.end(), isPrintable);
}

Fault notRead(const std::string& where, const std::string& what, const std::string& mend)
{
    return {fmt::format("{}: {}; {}", where, what, mend)};
}

Fault endsInHeader(const std::string& where)
{
    return notRead(where, "it ends before its samples begin", copyAgain);
}

Outcome<TakeFormat> checkedFormat(TakeFormat format, const Promise& promise, const TakeBytes& bytes,
                                  const std::string& where)
{
    if (const auto fault = faultOf(format, where))
        return *fault;
    const auto held = bytes.size - std::min(promise.start, bytes.size);
    if (promise.unfinished)
        return notRead(where,
                       fmt::format("its recorder was cut off before it wrote the length; {} of samples are there",
                                   secondsText(held, format)),
                       "open it in an audio editor that mends this, and save it again");
    if (promise.bytes > held)
        return notRead(where,
                       fmt::format("it is truncated: its header promises {}, and the file ends after {}",
                                   secondsText(promise.bytes, format), secondsText(held, format)),
                       "copy it again, or save what is there as a new file with an audio editor");
    format.start = promise.start;
    format.frames = promise.bytes / format.bytesPerFrame();
    if (format.frames == 0)
        return notRead(where, "it holds a header and no samples", "record it again");
    return format;
}

} // namespace couplet
