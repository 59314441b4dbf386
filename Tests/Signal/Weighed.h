// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/BroadbandMeter.h"
#include "Signal/HopSummer.h"

#include <cstddef>
#include <vector>

// Purpose: runs of the broadband meter and the names of its weightings.
namespace couplet::test {

inline constexpr std::size_t A = static_cast<std::size_t>(FrequencyWeighting::A);
inline constexpr std::size_t C = static_cast<std::size_t>(FrequencyWeighting::C);
inline constexpr std::size_t Z = static_cast<std::size_t>(FrequencyWeighting::Z);

// The meter behind its filters.
class Weighed
{
public:
    explicit Weighed(double sampleRate_Hz) : filters(sampleRate_Hz), meter(sampleRate_Hz) {}

    // Whole chunks only.
    void feed(const std::vector<float>& samples)
    {
        for (std::size_t i = 0; i + chunkLength <= samples.size(); i += chunkLength) {
            const FoldedChunk folds = folded(&samples[i]);
            meter.add(filters(&samples[i], {}), folds.total(), folds.power());
        }
    }
    const BroadbandLevels& operator[](std::size_t weighting) const { return meter.levels()[weighting]; }
    const std::array<BroadbandLevels, weightings>& levels() const { return meter.levels(); }

private:
    StreamFilters filters;
    BroadbandMeter meter;
};

} // namespace couplet::test
