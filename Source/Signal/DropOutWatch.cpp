// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/DropOutWatch.h"

#include "Signal/Sound.h"

#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr double leastAmplitude = 1e-4;
constexpr int fewestSamples = 16;
constexpr double fewestPeriods = 2.75;
constexpr double longest_s = 0.5;
constexpr int hopsOfMemory = 12; // a little longer: the tone is lost on the way

constexpr std::size_t stride = fewestSamples / 2; // any run of interest holds two neighbours so far apart

} // namespace

void DropOutWatch::hear(double amplitude, double frequency_Hz)
{
    hopsSinceTone = amplitude >= leastAmplitude ? 0 : hopsSinceTone + 1;
    if (hopsSinceTone == 0)
        tone_Hz = frequency_Hz;
    else if (hopsSinceTone > hopsOfMemory)
        tone_Hz = 0.0;
}

void DropOutWatch::add(const std::array<float, chunkLength>& chunk)
{
    bool perhaps = run >= fewestSamples / 2;
    for (std::size_t i = stride; i < chunk.size(); i += stride)
        perhaps = perhaps || chunk[i] == chunk[i - stride];
    if (!perhaps) { // only the end may be the beginning of one
        held = chunk.back();
        run = 1;
        for (std::size_t i = chunk.size() - 1; i > 0 && chunk[i - 1] == held; --i)
            ++run;
        return;
    }
    for (const float x : chunk) {
        if (run > 0 && x == held) {
            ++run;
            continue;
        }
        endRun();
        held = x;
        run = 1;
    }
}

void DropOutWatch::endRun()
{
    if (run < fewestSamples || !(tone_Hz > 0.0) || std::abs(held) >= converterFullScale)
        return;
    const auto length = static_cast<double>(run);
    if (length <= fewestPeriods * sampleRate_Hz / tone_Hz || length > longest_s * sampleRate_Hz)
        return;
    ++dropOuts;
    lostSamples += run;
}

} // namespace couplet
