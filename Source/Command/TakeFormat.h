// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Descriptor.h"
#include "Quantities/Outcome.h"
#include "Signal/Sizes.h"

#include <cstdint>
#include <string>

// Purpose: what a take's header says, believed only as far as the file holds it: a take that was cut off must be told
//          from a whole one, for a level of missing samples would be a wrong number.
// Ranges:  8 to 384 kHz, 1 to 65535 channels, at least one sample.
// Errors:  one sentence: the file, the place in it, the mend.
// Source:  RIFF/WAVE as in Multimedia Programming Interface 1.0 (1991) and the WAVEFORMATEXTENSIBLE structure; RF64 and
//          BW64 in ITU-R BS.2088; AIFF 1.3 (1989) and AIFF-C (1991). Layouts from memory.
// Thread:  any but audio (reads files).
namespace couplet {

enum class Encoding { unsignedInteger, signedInteger, floatingPoint };

struct TakeFormat
{
    double sampleRate_Hz = 0.0;
    int channels = 0;
    int bits = 0;           // as the header says; in the file, rounded up to whole bytes
    int bytesPerSample = 0; // 1 to 4; 4 or 8 for floating point
    Encoding encoding = Encoding::signedInteger;
    bool bigEndian = false;
    std::uint64_t start = 0;  // of the first sample, bytes
    std::uint64_t frames = 0; // samples in each channel

    std::uint64_t bytesPerFrame() const
    {
        return static_cast<std::uint64_t>(channels) * static_cast<std::uint64_t>(bytesPerSample);
    }
};

// An open file of known size, read at any place.
struct TakeBytes
{
    Descriptor file;
    std::uint64_t size = 0;

    // `count` bytes from `place`; false when the file has not so many, or cannot be read.
    bool at(std::uint64_t place, void* into, std::size_t count) const;
};

// `where` names the file in a fault.
Outcome<TakeFormat> takeFormatOf(const TakeBytes&, const std::string& where);

} // namespace couplet
