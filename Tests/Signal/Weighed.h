// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/BroadbandMeter.h"

#include <cstddef>
#include <vector>

// Purpose: runs of the broadband meter and the names of its weightings.
namespace couplet::test {

inline constexpr std::size_t A = static_cast<std::size_t>(FrequencyWeighting::A);
inline constexpr std::size_t C = static_cast<std::size_t>(FrequencyWeighting::C);
inline constexpr std::size_t Z = static_cast<std::size_t>(FrequencyWeighting::Z);

// Whole chunks only.
inline void feed(BroadbandMeter& meter, const std::vector<float>& samples)
{
    for (std::size_t i = 0; i + chunkLength <= samples.size(); i += chunkLength)
        meter.add(&samples[i]);
}

} // namespace couplet::test
