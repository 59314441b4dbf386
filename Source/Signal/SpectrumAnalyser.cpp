// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/SpectrumAnalyser.h"

#include "Signal/FlatTop.h"
#include "Signal/Sizes.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace couplet {
namespace {

constexpr double wantedLength_s = 0.7;
constexpr double highestLine_Hz = 20000.0;

std::size_t lengthAt(double sampleRate_Hz)
{
    return std::size_t{1} << std::lround(std::log2(wantedLength_s * sampleRate_Hz));
}

} // namespace

SpectrumAnalyser::SpectrumAnalyser(double sampleRate_Hz)
    : rate_Hz(sampleRate_Hz), spacing_Hz(sampleRate_Hz / static_cast<double>(lengthAt(sampleRate_Hz))),
      fourier(lengthAt(sampleRate_Hz)), window(fourier.length()), newest(fourier.length()), past(mostAverages)
{
    const auto n = static_cast<double>(length());
    for (std::size_t i = 0; i < length(); ++i)
        window[i] = 2.0 / n * flatTop(static_cast<double>(i) / n);
    const auto lines = std::min(length() / 2, static_cast<std::size_t>(highestLine_Hz / spacing_Hz) + 1);
    for (auto& powers : past)
        powers.resize(lines);
    restart();
}

void SpectrumAnalyser::restart()
{
    next = 0;
    missing = length();
    done = 0;
}

bool SpectrumAnalyser::add(std::span<const float> samples)
{
    bool any = false;
    while (!samples.empty()) {
        const auto take = std::min({samples.size(), missing, length() - next});
        std::copy_n(samples.begin(), take, newest.begin() + static_cast<std::ptrdiff_t>(next));
        samples = samples.subspan(take);
        next = (next + take) % length();
        missing -= take;
        if (missing == 0) {
            transform();
            any = true;
            missing = length() / overlapParts;
        }
    }
    return any;
}

void SpectrumAnalyser::transform()
{
    const std::size_t mask = length() - 1; // of a power of two
    for (std::size_t i = 0; i < length(); ++i)
        fourier.load(i, window[i] * static_cast<double>(newest[(next + i) & mask]));
    fourier.begin();
    fourier.work(std::numeric_limits<std::size_t>::max());
    auto& powers = past[static_cast<std::size_t>(done % mostAverages)];
    for (std::size_t k = 0; k < powers.size(); ++k) {
        const Phasor line = fourier.bin(k);
        powers[k] = static_cast<float>(line.re * line.re + line.im * line.im);
    }
    done = done < 2 * mostAverages - 1 ? done + 1 : mostAverages;
}

Spectrum SpectrumAnalyser::spectrum() const
{
    Spectrum s;
    s.sampleRate_Hz = rate_Hz;
    s.length_s = 1.0 / spacing_Hz;
    s.lineSpacing_Hz = spacing_Hz;
    s.noiseBandwidth_Hz = flatTopNoiseBins() * spacing_Hz;
    s.averages = std::min(done, mostAverages);
    if (s.averages == 0)
        return s;
    std::vector<double> sums(past[0].size());
    for (int i = 0; i < s.averages; ++i)
        for (std::size_t k = 0; k < sums.size(); ++k)
            sums[k] += static_cast<double>(past[static_cast<std::size_t>(i)][k]);
    s.powers.resize(sums.size());
    for (std::size_t k = 0; k < sums.size(); ++k)
        s.powers[k] = static_cast<float>(sums[k] / s.averages);
    return s;
}

} // namespace couplet
