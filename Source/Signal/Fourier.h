// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Phasor.h"

#include <cstddef>
#include <vector>

// Purpose: the spectrum of real samples of fixed length, for searching on the audio thread: loaded and worked on in
//          pieces as small as the caller likes.
// Source:  radix-2, decimation in time (Cooley and Tukey 1965); two real samples make one complex one.
// Thread:  audio after construction, which allocates.
namespace couplet {

class Fourier
{
public:
    // length: a power of two, at least 8.
    explicit Fourier(std::size_t length);

    std::size_t length() const { return 2 * half; }

    // Sample `index` of the next transform; all must be loaded before `work`.
    void load(std::size_t index, double value)
    {
        Phasor& z = data[reversed[index / 2]];
        (index % 2 == 0 ? z.re : z.im) = value;
    }
    // At most so many butterflies more; true when the transform is done.
    bool work(std::size_t butterflies);
    // sum over n of x[n] e^{-j 2 pi k n / length}, 0 <= k < length / 2. When done.
    Phasor bin(std::size_t k) const;
    void begin() { span = 1, next = 0; }

private:
    std::size_t half;
    std::vector<std::size_t> reversed;
    std::vector<Phasor> twiddles; // e^{-j 2 pi k / length}, k < length / 2
    std::vector<Phasor> data;
    std::size_t span = 1, next = 0; // half a butterfly group's size, and the next butterfly of that stage
};

} // namespace couplet
