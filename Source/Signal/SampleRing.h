// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Sizes.h"

#include <algorithm>
#include <vector>

// Purpose: the newest samples, in whole chunks numbered since the start of the stream, for looking back when the tone
//          has changed.
// Thread:  audio after construction, which allocates.
namespace couplet {

class SampleRing
{
public:
    explicit SampleRing(int chunks) : samples(static_cast<std::size_t>(chunks) * chunkLength), capacity(chunks) {}

    void push(const float* chunk) { std::copy(chunk, chunk + chunkLength, place(heard++)); }

    // Chunks heard so far: the number that the next one will have.
    long end() const { return heard; }
    // The samples of a chunk that is still there: end() - capacity <= number < end().
    const float* chunk(long number) const { return &samples[offset(number)]; }

    void clear() { heard = 0; }

private:
    std::size_t offset(long number) const { return static_cast<std::size_t>(number % capacity) * chunkLength; }
    std::vector<float>::iterator place(long number)
    {
        return samples.begin() + static_cast<std::ptrdiff_t>(offset(number));
    }

    std::vector<float> samples;
    long capacity, heard = 0;
};

} // namespace couplet
