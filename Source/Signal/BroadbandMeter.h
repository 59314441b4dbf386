// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/PeakInterpolator.h"
#include "Signal/StreamFilters.h"

#include <array>
#include <cstddef>
#include <optional>

// Purpose: A-, C- and Z-weighted levels: energy, time-weighted maxima and minima, peak.
// Source:  IEC 61672-1:2013 3 (F 0.125 s, S 1 s, time-average and exposure level), 5.5 (weightings).
// Units:   mean squares and peaks relative to full scale = 1; seconds.
// Thread:  audio after construction.
namespace couplet {

enum class FrequencyWeighting : std::size_t { A, C, Z };
inline constexpr std::size_t weightings = 3;

struct BroadbandLevels
{
    double fast = 0.0, slow = 0.0;          // exponential averages now, mean square
    double energy = 0.0;                    // of the square since the start, s; of Z without its mean
    double fastMax = 0.0, slowMax = 0.0;    // mean square
    std::optional<double> fastMin, slowMin; // absent before five time constants have passed
    double peak = 0.0;                      // |x|: C between samples, A and Z at samples
};

class BroadbandMeter
{
public:
    explicit BroadbandMeter(double sampleRate_Hz);

    // The next chunk: weighted, and the sums of its samples and of their squares.
    void add(const WeightedChunk&, double total, double power);
    // Likewise, while the filters have not settled: nothing counts yet.
    void passBy(const WeightedChunk& w) { peakC(w.c.data()); }
    const std::array<BroadbandLevels, weightings>& levels() const { return results; }
    double duration_s() const { return static_cast<double>(chunks) * chunkSeconds; }
    void reset();
    // Energies, extremes, peaks and the duration count anew; the running averages go on as they are.
    void restartCounts();

private:
    void average(std::size_t weighting, double meanSquare);

    double chunkSeconds, keepFast, keepSlow;
    double allTotal = 0.0, allSquares = 0.0; // of all samples
    PeakInterpolator peakC;
    long chunks = 0, heard = 0; // that count, and since the averages began
    std::array<BroadbandLevels, weightings> results{};
};

} // namespace couplet
