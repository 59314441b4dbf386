// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ToneSearch.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr auto idx(int i)
{
    return static_cast<std::size_t>(i);
}

constexpr double lowestTone_Hz = 15.0;
constexpr double highestTone_Hz = 20500.0;

// How far a line must stand above the median of the bins around it. The largest of a thousand bins of noise stands
// some 10 times above its median; a tone 10 dB above white noise more than 10 000 times.
constexpr double leastProminence = 60.0;
constexpr int nearestNeighbour = 4; // outside the window's main lobe of +-2 bins
constexpr int farthestNeighbour = 24;

std::size_t transformLength(double sampleRate_Hz)
{
    std::size_t length = 1;
    while (2 * length <= static_cast<std::size_t>(2 * hopLength(sampleRate_Hz)))
        length *= 2;
    return length;
}

} // namespace

ToneSearch::ToneSearch(double sampleRate_Hz)
    : transform(transformLength(sampleRate_Hz)), binWidth(sampleRate_Hz / static_cast<double>(length())),
      lowest(std::max(1, static_cast<int>(std::floor(lowestTone_Hz / binWidth)))),
      highest(std::min(length() / 2 - 2, static_cast<int>(highestTone_Hz / binWidth))), window(transform.length()),
      power(transform.length() / 2)
{
    around.reserve(2 * idx(farthestNeighbour));
    for (int i = 0; i < length(); ++i)
        window[idx(i)] = 0.5 - 0.5 * std::cos(2.0 * pi * (i + 0.5) / length());
}

void ToneSearch::load(int chunk, const std::array<double, chunkLength>& samples)
{
    if (chunk == 0) {
        transform.begin();
        stage = Stage::transforming;
        powersTaken = 0;
    }
    const auto first = idx(chunk * chunkLength);
    for (std::size_t k = 0; k < samples.size(); ++k)
        transform.load(first + k, samples[k] * window[first + k]);
}

bool ToneSearch::work(std::size_t butterflies)
{
    switch (stage) {
    case Stage::transforming:
        if (transform.work(butterflies))
            stage = Stage::powers;
        return false;
    case Stage::powers:
        if (takePowers(2 * butterflies))
            stage = Stage::judging;
        return false;
    case Stage::judging:
        judge();
        return true;
    }
    return true;
}

bool ToneSearch::takePowers(std::size_t most)
{
    for (const std::size_t end = std::min(power.size(), powersTaken + most); powersTaken < end; ++powersTaken) {
        const Phasor x = transform.bin(powersTaken);
        power[powersTaken] = x.re * x.re + x.im * x.im;
    }
    if (powersTaken < power.size())
        return false;
    // The window's own transform is in bins 0 and 1 alone: with that, the weighted mean is taken out of them.
    const Phasor mean = transform.bin(0);
    const Phasor first = transform.bin(1) + 0.5 * (mean * unitPhasor(pi / length()));
    power[0] = 0.0;
    power[1] = first.re * first.re + first.im * first.im;
    return true;
}

bool ToneSearch::peaks(int bin) const
{
    return power[idx(bin)] >= power[idx(bin + 1)] && (bin == lowest || power[idx(bin)] >= power[idx(bin - 1)]);
}

bool ToneSearch::nearMains(int bin) const
{
    for (const double mains : {50.0, 60.0})
        for (int order = 1; order <= 3; ++order)
            if (std::abs(bin - order * mains / binWidth) < 1.5)
                return true;
    return false;
}

// Noise of music and rooms falls with frequency as pink noise does; weighting its power by frequency keeps the bins
// below a candidate from being taken for its noise, and the candidate from standing out for being low.
bool ToneSearch::standsOut(int bin)
{
    around.clear();
    for (int d = nearestNeighbour; d <= farthestNeighbour; ++d)
        for (const int other : {bin - d, bin + d})
            if (other >= 1 && other < length() / 2)
                around.push_back(power[idx(other)] * other);
    const auto middle = around.begin() + static_cast<std::ptrdiff_t>(around.size() / 2);
    std::nth_element(around.begin(), middle, around.end());
    return power[idx(bin)] * bin > leastProminence * *middle;
}

void ToneSearch::judge()
{
    line = {};
    int best = 0;
    for (int bin = lowest; bin <= highest; ++bin)
        if (peaks(bin) && (best == 0 || power[idx(bin)] > power[idx(best)]))
            best = bin;
    if (best == 0 || !(power[idx(best)] > 0.0))
        return;
    line.power = power[idx(best)];
    line.standsOut = standsOut(best);
    line.nearMains = nearMains(best);
    const double here = std::sqrt(power[idx(best)]);
    const double above = std::sqrt(power[idx(best + 1)]), below = std::sqrt(power[idx(best - 1)]);
    const double offset =
        above > below ? (2.0 * above - here) / (above + here) : -(2.0 * below - here) / (below + here);
    line.frequency_Hz = std::max(lowestTone_Hz, (best + offset) * binWidth);
}

} // namespace couplet
