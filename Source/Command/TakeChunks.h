// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Command/TakeFormat.h"

#include <cstdint>
#include <optional>
#include <string>

// Purpose: what the headers of both families share: chunks of a name and a length, and the checks once the samples are
//          found.
// Thread:  any but audio (reads files).
namespace couplet {

enum class ByteOrder { little, big };

// An unsigned number of `count` bytes, at most 8.
std::uint64_t numberAt(const unsigned char* bytes, int count, ByteOrder);

struct Chunk
{
    std::string id;           // four characters
    std::uint64_t body = 0;   // place of its first byte after the length
    std::uint64_t length = 0; // as it says
};

// Absent at the end of the file.
std::optional<Chunk> chunkAt(const TakeBytes&, std::uint64_t place, ByteOrder);

// Where the next chunk begins: they are aligned to even places.
std::uint64_t endOf(const Chunk&);

// Whether what stands there looks like a chunk: a printable name, and a length that fits into the file.
bool chunkStandsAt(const TakeBytes&, std::uint64_t place, ByteOrder);

// More chunks than any real take has: a file of zeros must not be walked through for minutes.
inline constexpr int mostChunks = 4096;

// The samples as the header promises them.
struct Promise
{
    std::uint64_t start = 0;
    std::uint64_t bytes = 0;
    bool unfinished = false; // the length was never written
};

Fault notRead(const std::string& where, const std::string& what, const std::string& mend);
Fault endsInHeader(const std::string& where);

// The last checks of both families; fills in `start` and `frames`.
Outcome<TakeFormat> checkedFormat(TakeFormat, const Promise&, const TakeBytes&, const std::string& where);

// One a family; the first bytes were recognised before.
Outcome<TakeFormat> wavFormatOf(const TakeBytes&, const std::string& where);
Outcome<TakeFormat> aiffFormatOf(const TakeBytes&, const std::string& where);

} // namespace couplet
