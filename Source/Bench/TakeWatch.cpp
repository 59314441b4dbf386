// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/TakeWatch.h"

#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace couplet {
namespace {

constexpr std::size_t mostPieces = 4096;
constexpr double sameLevel_dB = 0.05, sameSound_dB = 3.0, sameFrequency = 0.002;

} // namespace

bool TakeWatch::joins(const Piece& a, const Piece& b)
{
    if (a.clean != b.clean || (a.lost > 0) != (b.lost > 0) || (a.cuts > 0) != (b.cuts > 0))
        return false;
    const double same_dB = a.clean ? sameLevel_dB : sameSound_dB;
    return std::abs(a.level_dB - b.level_dB) <= same_dB &&
           std::abs(a.frequency_Hz - b.frequency_Hz) <= sameFrequency * a.frequency_Hz;
}

void TakeWatch::join(Piece& to, const Piece& p)
{
    const double share = static_cast<double>(p.hops) / (to.hops + p.hops);
    to.level_dB += share * (p.level_dB - to.level_dB);
    to.frequency_Hz += share * (p.frequency_Hz - to.frequency_Hz);
    to.hops += p.hops;
    to.lost += p.lost;
    to.lostTimes += p.lostTimes;
    to.cuts += p.cuts;
    to.clean = to.clean && p.clean;
}

void TakeWatch::add(const Estimate& e)
{
    if (!begun) {
        begun = true;
        begin_s = static_cast<double>(e.hop - 1) * e.hop_s;
        dropOuts = e.dropOuts;
        dropOutSamples = e.dropOutSamples;
        cutPeaks = e.cutPeaks;
    }
    hop_s = e.hop_s;
    sampleRate_Hz = e.sampleRate_Hz;
    Piece p;
    p.hops = 1;
    const bool isTone = e.tone.hopAmplitude > 0.0;
    const bool jumped = e.tone.restarted && !e.tone.unbroken; // else it wobbles
    p.clean = isTone && e.tone.reason != NoTone::confirming && !jumped && !e.disturbed && !e.broken;
    p.level_dB = decibels(std::max(p.clean ? e.tone.hopAmplitude : e.hopPeak, 1e-9));
    p.frequency_Hz = p.clean ? e.tone.frequency_Hz : 0.0;
    p.lost = e.dropOutSamples - std::exchange(dropOutSamples, e.dropOutSamples);
    p.lostTimes = e.dropOuts - std::exchange(dropOuts, e.dropOuts);
    p.cuts = e.cutPeaks - std::exchange(cutPeaks, e.cutPeaks);
    if (!pieces.empty() && joins(pieces.back(), p))
        join(pieces.back(), p);
    else
        pieces.push_back(p);
    if (pieces.size() > mostPieces) {
        std::vector<Piece> fewer;
        for (std::size_t i = 0; i + 1 < pieces.size(); i += 2) {
            fewer.push_back(pieces[i]);
            join(fewer.back(), pieces[i + 1]);
        }
        if (pieces.size() % 2 == 1)
            fewer.push_back(pieces.back());
        pieces = std::move(fewer);
    }
    if (isTone && heard_Hz.size() < mostPieces)
        heard_Hz.push_back(e.tone.frequency_Hz);
}

// Nine in ten of the steps that it takes go one way, and they come to more than a fiftieth.
std::string TakeWatch::movingTone() const
{
    constexpr std::size_t fewest = 10;
    constexpr double oneWay = 0.9, noStep = 1e-4;
    if (heard_Hz.size() < fewest)
        return {};
    int up = 0, down = 0;
    for (std::size_t i = 1; i < heard_Hz.size(); ++i) {
        const double step = heard_Hz[i] / heard_Hz[i - 1] - 1.0;
        up += step > noStep ? 1 : 0;
        down += step < -noStep ? 1 : 0;
    }
    const double first = heard_Hz.front(), last = heard_Hz.back();
    const bool moves = std::max(up, down) >= oneWay * (up + down) && up + down >= static_cast<int>(fewest) / 2 &&
                       std::abs(last / first - 1.0) > leastMove;
    if (!moves)
        return {};
    return fmt::format("the tone moves: from {} to {}; play one that stays where it is", frequencyText(Hertz(first)),
                       frequencyText(Hertz(last)));
}

} // namespace couplet
