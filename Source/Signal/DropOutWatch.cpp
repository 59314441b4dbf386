// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/DropOutWatch.h"

#include "Signal/Sound.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr double leastAmplitude = 1e-4;
constexpr int shortestRun = 3;
constexpr double fewestPeriods = 2.75;
constexpr int fewestSamples = 16; // of a run at an extreme
constexpr double longest_s = 0.5;
constexpr int hopsOfMemory = 12; // a little longer: the tone is lost on the way

// Within the swing; a square wave's own plateau lies at pi/4 of its fundamental. Far beyond it: zeros under a constant.
constexpr double within = 0.7, beyond = 1.5;
constexpr double loud = 0.5;

constexpr double extraOfDropOut = 4.0, extraOfPeak = 2.0;
constexpr double widths = 2.0; // noise and dither make a stay longer
constexpr double sixteenBits = 1.0 / 32768.0;
constexpr double fewestSteps = 16.0; // below, what stands beside the tone may hold it still

} // namespace

void DropOutWatch::breakOff()
{
    run = waiting = waitingSamples = 0;
    loudAt = -1;
    position += chunkLength;
}

void DropOutWatch::hear(double amplitude, double frequency_Hz, double constant)
{
    hopsSinceTone = amplitude >= leastAmplitude ? 0 : hopsSinceTone + 1;
    if (hopsSinceTone == 0) {
        tone_Hz = frequency_Hz;
        toneAmplitude = amplitude;
        dc = constant;
    }
    else if (hopsSinceTone > hopsOfMemory)
        tone_Hz = 0.0;
}

// Three equal samples in a row, those before the chunk's beginning included. No branch within: it is one vector loop.
bool DropOutWatch::mayRepeat(const std::array<float, chunkLength>& chunk) const
{
    int equal = 0;
    for (std::size_t i = 2; i < chunk.size(); ++i)
        equal |= static_cast<int>(chunk[i] == chunk[i - 1]) & static_cast<int>(chunk[i] == chunk[i - 2]);
    return equal != 0 || (run > 0 && chunk[0] == held && (chunk[1] == held || run > 1));
}

// Samples of a quantiser differ by whole steps. What does not is taken to have those of 16 bits at most.
void DropOutWatch::learnStep(const std::array<float, chunkLength>& chunk)
{
    constexpr double wholeWithin = 0.01;
    const auto difference = [&](std::size_t i) {
        return std::abs(static_cast<double>(chunk[i]) - static_cast<double>(chunk[i - 1]));
    };
    for (std::size_t i = 1; i < chunk.size(); ++i)
        if (const double d = difference(i); d > 0.0)
            least = least > 0.0 ? std::min(least, d) : d;
    step = least;
    for (std::size_t i = 1; i < chunk.size(); ++i)
        if (const double steps = difference(i) / least;
            least > 0.0 && std::abs(steps - std::round(steps)) > wholeWithin)
            step = std::min(least, sixteenBits);
}

void DropOutWatch::add(const std::array<float, chunkLength>& chunk, float low, float high)
{
    const double swing = loud * toneAmplitude;
    const bool isLoud = static_cast<double>(high) >= dc + swing || static_cast<double>(low) <= dc - swing;
    if (run >= shortestRun || mayRepeat(chunk)) {
        learnStep(chunk);
        for (const float x : chunk) {
            ++position;
            if (run > 0 && x == held) {
                ++run;
                continue;
            }
            endRun();
            held = x;
            run = 1;
        }
    }
    else {
        position += chunkLength;
        held = chunk.back();
        run = chunk[chunk.size() - 2] == held ? 2 : 1;
    }
    if (!isLoud)
        return;
    loudAt = position;
    if (waiting > 0)
        countWaiting();
}

void DropOutWatch::countWaiting()
{
    if (static_cast<double>(position - waitingSince) <= waitsFor) {
        dropOuts += waiting;
        lostSamples += waitingSamples;
    }
    waiting = waitingSamples = 0;
}

void DropOutWatch::notePeak(bool above)
{
    float& before = cutAt[above ? 1 : 0];
    if (held == before)
        ++cuts;
    before = held;
}

void DropOutWatch::endRun()
{
    const bool atFullScale = std::abs(held) >= converterFullScale && std::abs(held) <= 1.0f;
    if (run < shortestRun || !(tone_Hz > 0.0) || atFullScale)
        return;
    const auto length = static_cast<double>(run);
    const double period = sampleRate_Hz / tone_Hz;
    if (length > longest_s * sampleRate_Hz)
        return;
    const double share = std::min(2.0, step / toneAmplitude);
    const double stays = 2.0 * std::acos(1.0 - share) * period / (2.0 * pi);
    const double from = static_cast<double>(held) - dc, size = std::abs(from) / toneAmplitude;
    const bool atExtreme = size >= within && size <= beyond;
    if (atExtreme && length > extraOfPeak + widths * stays && length <= fewestPeriods * period) {
        notePeak(from > 0.0);
        return;
    }
    const bool isCoarse = toneAmplitude < fewestSteps * step;
    const double needed = atExtreme || isCoarse ? std::max<double>(fewestSamples, fewestPeriods * period)
                                                : extraOfDropOut + widths * stays;
    if (length <= needed)
        return;
    // The tone was there within a period of the run's beginning, to a chunk.
    const std::int64_t began = position - 1 - run;
    if (loudAt < 0 || static_cast<double>(began - loudAt) > period + chunkLength)
        return;
    ++waiting;
    waitingSamples += run;
    waitingSince = position;
    waitsFor = period + 2.0 * chunkLength;
}

} // namespace couplet
