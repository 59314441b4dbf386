// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/SampleDecoding.h"

#include <bit>
#include <cstdint>
#include <type_traits>

namespace couplet {
namespace {

template <int Bytes, bool BigEndian> std::uint64_t assembled(const unsigned char* sample)
{
    std::uint64_t bits = 0;
    for (int i = 0; i < Bytes; ++i)
        bits = bits << 8 | sample[BigEndian ? i : Bytes - 1 - i];
    return bits;
}

// Every integer is moved up to 32 bits, so that one scale serves all and 20 bits in three bytes need nothing special.
template <int Bytes, bool BigEndian> float fromInteger(const unsigned char* sample)
{
    const auto shifted = static_cast<std::uint32_t>(assembled<Bytes, BigEndian>(sample) << (32 - 8 * Bytes));
    return static_cast<float>(static_cast<std::int32_t>(shifted)) * 0x1p-31f;
}

float fromUnsigned(const unsigned char* sample)
{
    return static_cast<float>(*sample - 128) * 0x1p-7f;
}

template <int Bytes, bool BigEndian> float fromFloat(const unsigned char* sample)
{
    using Bits = std::conditional_t<Bytes == 4, std::uint32_t, std::uint64_t>;
    using Real = std::conditional_t<Bytes == 4, float, double>;
    return static_cast<float>(std::bit_cast<Real>(static_cast<Bits>(assembled<Bytes, BigEndian>(sample))));
}

using Decoder = float (*)(const unsigned char*);

template <Decoder decode> void decodeAll(const unsigned char* first, std::size_t step, int frames, float* into)
{
    for (int i = 0; i < frames; ++i)
        into[i] = decode(first + static_cast<std::size_t>(i) * step);
}

template <bool BigEndian> auto loopFor(const TakeFormat& format)
{
    if (format.encoding == Encoding::floatingPoint)
        return format.bytesPerSample == 4 ? &decodeAll<fromFloat<4, BigEndian>> : &decodeAll<fromFloat<8, BigEndian>>;
    if (format.encoding == Encoding::unsignedInteger)
        return &decodeAll<fromUnsigned>;
    switch (format.bytesPerSample) {
    case 1:
        return &decodeAll<fromInteger<1, BigEndian>>;
    case 2:
        return &decodeAll<fromInteger<2, BigEndian>>;
    case 3:
        return &decodeAll<fromInteger<3, BigEndian>>;
    default:
        return &decodeAll<fromInteger<4, BigEndian>>;
    }
}

} // namespace

void decodeChannel(const unsigned char* bytes, int frames, const TakeFormat& format, int channel, float* into)
{
    const auto loop = format.bigEndian ? loopFor<true>(format) : loopFor<false>(format);
    loop(bytes + static_cast<std::size_t>(channel) * static_cast<std::size_t>(format.bytesPerSample),
         static_cast<std::size_t>(format.bytesPerFrame()), frames, into);
}

} // namespace couplet
