// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/PeakInterpolator.h"

#include "Signal/Kaiser.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr auto idx(int i)
{
    return static_cast<std::size_t>(i);
}

constexpr double kaiserBeta = 6.5;

} // namespace

PeakInterpolator::PeakInterpolator(double sampleRate_Hz)
    : phases(sampleRate_Hz < 60000.0    ? 3
             : sampleRate_Hz < 120000.0 ? 1
                                        : 0)
{
    for (int phase = 0; phase < phases; ++phase) {
        const double between = (phase + 1.0) / (phases + 1.0);
        double sum = 0.0;
        std::array<double, taps> h{};
        for (int k = 0; k < taps; ++k) {
            const double t = k - (0.5 * taps - 1.0) - between;
            h[idx(k)] = std::sin(pi * t) / (pi * t) * kaiser(t / (taps / 2.0), kaiserBeta);
            sum += h[idx(k)];
        }
        for (int k = 0; k < taps; ++k)
            filter[idx(phase)][idx(k)] = static_cast<float>(h[idx(k)] / sum);
    }
}

float PeakInterpolator::operator()(const float* chunk)
{
    std::copy(chunk, chunk + chunkLength, history.begin() + taps);
    float largest = 0.0f;
    for (int i = 0; i < chunkLength; ++i)
        largest = std::max(largest, std::abs(chunk[i]));
    for (int phase = 0; phase < phases; ++phase)
        largest = run->interpolate(filter[idx(phase)].data(), history.data() + 1, largest);
    std::copy(history.end() - taps, history.end(), history.begin());
    return largest;
}

} // namespace couplet
