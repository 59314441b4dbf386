// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Sizes.h"

#include <cmath>
#include <cstddef>
#include <vector>

// Purpose: a plain sine, every sample from the sine itself so that nothing drifts.
// Units:   peak amplitude, full scale = 1; Hz; s.
namespace couplet::test {

inline std::vector<float> sine(double frequency_Hz, double amplitude, double seconds, double sampleRate_Hz)
{
    std::vector<float> samples(static_cast<std::size_t>(std::lround(seconds * sampleRate_Hz)));
    for (std::size_t i = 0; i < samples.size(); ++i)
        samples[i] = static_cast<float>(
            amplitude *
            std::sin(0.7 + 2.0 * pi * std::fmod(frequency_Hz / sampleRate_Hz * static_cast<double>(i), 1.0)));
    return samples;
}

} // namespace couplet::test
