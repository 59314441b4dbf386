// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ThirdOctaveBank.h"

#include <cmath>

namespace couplet {
namespace {

// Upper edges are kept below this share of the rate that their filter runs at, and of twice the stream's rate.
constexpr double highestEdge = 7.0 / 30.0;
constexpr std::size_t halverTaps = 12;  // what folds into a band is 80 dB down
constexpr std::size_t doublerTaps = 43; // flat to 7/15 of the stream's rate, 90 dB down from 8/15 on
constexpr double settlingWidths = 4.0;  // over a band's width: what is left of the start is 0.2 %
constexpr long settlingSamples = 24;    // of the rate filters
constexpr double nothing = 1e-30;       // of a state or a sum: far below, arithmetic becomes slow

} // namespace

ThirdOctaveBank::ThirdOctaveBank(double sampleRate_Hz) : doubler(doublerTaps)
{
    for (double rate_Hz = 2.0 * sampleRate_Hz; stages.empty() || rate_Hz > thirdOctave(0).upper_Hz / highestEdge;
         rate_Hz /= 2.0)
        stages.push_back({rate_Hz, std::exp(-1.0 / (timeConstant_s * rate_Hz)), {}});
    for (std::size_t index = 0; index < thirdOctaves; ++index) {
        std::size_t lowest = stages.size();
        while (lowest > 0 && thirdOctave(index).upper_Hz > highestEdge * stages[lowest - 1].rate_Hz)
            --lowest;
        if (lowest > 0)
            put(index, lowest - 1);
    }
    halvers.assign(stages.size() - 1, Halver(halverTaps)); // the first is idle
    restart();
}

void ThirdOctaveBank::put(std::size_t index, std::size_t stage)
{
    Stage& s = stages[stage];
    const ThirdOctave third = thirdOctave(index);
    Band band;
    band.index = index;
    band.sections = thirdOctaveFilter(third, s.rate_Hz);
    band.settling = std::lround(settlingWidths / third.width_Hz() * s.rate_Hz) + settlingSamples;
    s.bands.push_back(band);
}

void ThirdOctaveBank::restart()
{
    for (Stage& stage : stages)
        for (Band& band : stage.bands) {
            band.states = {};
            band.heard = 0;
            band.sum = band.weight = 0.0;
        }
    for (Halver& halver : halvers)
        halver.restart();
    doubler.restart();
}

void ThirdOctaveBank::add(std::span<const float> samples)
{
    block.assign(samples.begin(), samples.end());
    if (!stages[0].bands.empty()) {
        doubler.run(block, twice);
        run(stages[0], twice);
    }
    for (std::size_t i = 1; i < stages.size(); ++i) {
        run(stages[i], block);
        if (i < halvers.size())
            halvers[i].run(block);
    }
}

void ThirdOctaveBank::run(Stage& stage, const std::vector<double>& samples)
{
    for (Band& band : stage.bands)
        run(band, stage.keep, samples);
}

void ThirdOctaveBank::run(Band& band, double keep, const std::vector<double>& samples)
{
    auto states = band.states;
    for (double x : samples) {
        for (std::size_t i = 0; i < band.sections.size(); ++i) {
            const BiquadCoefficients& c = band.sections[i]; // b1 = 0
            const double y = c.b0 * x + states[i][0];
            states[i][0] = states[i][1] - c.a1 * y;
            states[i][1] = c.b2 * x - c.a2 * y;
            x = y;
        }
        if (++band.heard > band.settling) {
            band.sum = keep * band.sum + x * x;
            band.weight = keep * band.weight + 1.0;
        }
    }
    for (auto& pair : states)
        for (double& state : pair)
            if (std::abs(state) < nothing)
                state = 0.0;
    band.states = states;
    if (band.sum < nothing) // it would fall by 4.3 dB/s for ever, and be shown
        band.sum = 0.0;
}

BandPowers ThirdOctaveBank::powers() const
{
    BandPowers powers;
    for (const Stage& stage : stages)
        for (const Band& band : stage.bands)
            if (static_cast<double>(band.heard - band.settling) >= timeConstant_s * stage.rate_Hz)
                powers[band.index] = band.sum / band.weight;
    return powers;
}

} // namespace couplet
