// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Fourier.h"

#include "Signal/Sizes.h"

#include <algorithm>

namespace couplet {

Fourier::Fourier(std::size_t length) : half(length / 2), reversed(half), twiddles(half), data(half)
{
    for (std::size_t k = 0; k < half; ++k)
        twiddles[k] = unitPhasor(-2.0 * pi * static_cast<double>(k) / static_cast<double>(length));
    for (std::size_t i = 1, j = 0; i < half; ++i) {
        std::size_t bit = half >> 1;
        for (; (j & bit) != 0; bit >>= 1)
            j ^= bit;
        j ^= bit;
        reversed[i] = j;
    }
}

bool Fourier::work(std::size_t butterflies)
{
    while (span < half && butterflies > 0) {
        // What is left of one group, or of the allowance.
        const std::size_t group = next / span, first = next % span;
        const std::size_t count = std::min(span - first, butterflies);
        const std::size_t stride = half / span; // of twiddles for the whole length
        Phasor* upper = &data[2 * span * group + first];
        Phasor* lower = upper + span;
        for (std::size_t k = 0; k < count; ++k) {
            const Phasor u = upper[k];
            const Phasor v = lower[k] * twiddles[(first + k) * stride];
            upper[k] = u + v;
            lower[k] = u - v;
        }
        butterflies -= count;
        next += count;
        if (next == half / 2) {
            next = 0;
            span *= 2;
        }
    }
    return span >= half;
}

// The spectra of the even and of the odd samples lie in that of the pairs as its two symmetries.
Phasor Fourier::bin(std::size_t k) const
{
    const Phasor z = data[k], mirrored = conjugate(data[k == 0 ? 0 : half - k]);
    const Phasor even = 0.5 * (z + mirrored), odd = 0.5 * (z - mirrored);
    const Phasor turned = twiddles[k] * odd;
    return even + Phasor{turned.im, -turned.re};
}

} // namespace couplet
