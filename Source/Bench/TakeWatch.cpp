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

constexpr double thisTone = 0.01;  // of its frequency
constexpr double atLevel_dB = 0.3; // twice what a calibrator of class 2 may fluctuate (IEC 60942)
constexpr int shortestStay = 10;   // hops, half a second: what passes through the level was not there
constexpr double loud_dB = 12.0;   // below the tone: what counts as sound beside it

constexpr double tenth = 0.1, third = 1.0 / 3.0;
constexpr double leastOfSpan = 0.5, leastOfTake = 0.2;
constexpr double stillMoves_dB = 0.1; // over the stretch that was used
constexpr double withoutU_dB = 0.2, worthTelling_dB = 0.02;
constexpr double mostOthers_percent = 10.0;
constexpr double mostLost = 0.001; // 0.009 dB
constexpr std::int64_t fewestCuts = 10;

double percent(double part, double whole)
{
    return whole > 0.0 ? 100.0 * part / whole : 0.0;
}

} // namespace

bool Flaw::withholds(std::optional<double> U_dB) const
{
    return !againstU || size > U_dB.value_or(withoutU_dB);
}

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

// Of the pieces given: the deviation that for so large a share of the tone's time is reached or exceeded.
TakeWatch::Part TakeWatch::partOf(const UsedStretch& used, std::size_t from, std::size_t end, double share) const
{
    Part part;
    std::vector<std::pair<double, int>> away;
    for (std::size_t i = from; i < end; ++i) {
        const Piece& p = pieces[i];
        const bool isThis = p.clean && std::abs(p.frequency_Hz - used.frequency_Hz) <= thisTone * used.frequency_Hz;
        if (isThis || p.level_dB >= used.level_dBFS - loud_dB)
            part.sound += p.hops;
        if (p.clean && !isThis && p.level_dB >= used.level_dBFS - loud_dB) {
            part.another += p.hops;
            part.another_Hz = p.frequency_Hz;
        }
        if (!isThis)
            continue;
        part.tone += p.hops;
        away.emplace_back(p.level_dB - used.level_dBFS, p.hops);
        if (std::abs(p.level_dB - used.level_dBFS) <= atLevel_dB)
            part.atLevel += p.hops;
    }
    std::sort(away.begin(), away.end(),
              [](const auto& a, const auto& b) { return std::abs(a.first) > std::abs(b.first); });
    int hops = 0;
    for (const auto& [dB, count] : away) {
        hops += count;
        part.away_dB = dB;
        if (hops >= share * part.tone)
            break;
    }
    hops = 0;
    for (const auto& [dB, count] : away)
        if (std::abs(dB) >= 0.8 * std::abs(part.away_dB))
            hops += count;
    part.awayShare = part.tone > 0 ? static_cast<double>(hops) / part.tone : 0.0;
    return part;
}

// The pieces from where the tone first stayed at its level to where it last did: before it, an earphone is slid in or a
// calibrator pressed on; after it, it is taken away.
std::pair<std::size_t, std::size_t> TakeWatch::spanOf(const UsedStretch& used) const
{
    std::size_t from = pieces.size(), end = 0, began = 0;
    int stay = 0;
    double time_s = begin_s;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const Piece& p = pieces[i];
        const double next_s = time_s + p.hops * hop_s;
        const bool isUsed = next_s > used.start_s + 0.5 * hop_s && time_s < used.start_s + used.length_s - 0.5 * hop_s;
        const bool isAtLevel = p.clean &&
                               std::abs(p.frequency_Hz - used.frequency_Hz) <= thisTone * used.frequency_Hz &&
                               std::abs(p.level_dB - used.level_dBFS) <= atLevel_dB;
        began = stay == 0 ? i : began;
        stay = isAtLevel ? stay + p.hops : 0;
        if (isUsed || stay >= shortestStay) {
            from = std::min(from, isUsed ? i : began);
            end = i + 1;
        }
        time_s = next_s;
    }
    return {std::min(from, end), end};
}

void TakeWatch::addLost(std::vector<Flaw>& found, const UsedStretch& used) const
{
    std::int64_t lost = 0, times = 0, cuts = 0;
    double time_s = begin_s;
    for (const Piece& p : pieces) {
        const double next_s = time_s + p.hops * hop_s;
        if (next_s > used.start_s + 0.5 * hop_s && time_s < used.start_s + used.length_s - 0.5 * hop_s) {
            lost += p.lost;
            times += p.lostTimes;
            cuts += p.cuts;
        }
        time_s = next_s;
    }
    const double share = std::min(0.99, static_cast<double>(lost) / std::max(1.0, used.length_s * sampleRate_Hz));
    if (share > mostLost)
        found.push_back({Flaw::Kind::dropOuts, "samples lost", 100.0 * share, 100.0 * mostLost, "%",
                         fmt::format("{} drop-outs took {:.1f} % of the tone, and {:.2f} dB of its level: lengthen the "
                                     "device's buffer and take it again",
                                     times, 100.0 * share, -decibels(1.0 - share)),
                         false});
    if (cuts >= fewestCuts)
        found.push_back(
            {Flaw::Kind::cutPeaks, "peaks cut off", static_cast<double>(cuts), 0.0, "",
             fmt::format("{} peaks are cut off at one value below or beyond full scale: the sound was clipped "
                         "before its gain was changed; lower the gain ahead of that and take it again",
                         cuts),
             false});
}

void TakeWatch::addLevels(std::vector<Flaw>& found, const UsedStretch& used) const
{
    const auto [from, end] = spanOf(used);
    const auto otherLevel = [&](double size_dB, std::string sentence) {
        if (std::abs(size_dB) > worthTelling_dB)
            found.push_back({Flaw::Kind::otherLevel, "one level, within U", std::abs(size_dB), 0.0, "dB",
                             std::move(sentence), true});
    };
    const bool stillMoves =
        std::abs(used.drift_dB) > stillMoves_dB && std::abs(used.drift_dB) > 2.0 * used.driftU_dB && !used.live;
    const Part whole = partOf(used, 0, pieces.size(), stillMoves ? tenth : third);
    const Part span = partOf(used, from, end, tenth);
    if (std::abs(span.away_dB) > used.straying_dB && span.tone > 0)
        otherLevel(span.away_dB,
                   fmt::format("the tone stood {} dB from the level that was used for {:.0f} % of the time: look for a "
                               "loose contact, a slipping seat or a second tone, and take it again",
                               signedLevelText(span.away_dB), 100.0 * span.awayShare));
    else if (!used.live && stillMoves)
        otherLevel(whole.away_dB,
                   fmt::format("the level moved by {} dB during the take and still moves: let it settle, "
                               "and take it again",
                               signedLevelText(-whole.away_dB)));
    else if (!used.live)
        otherLevel(whole.away_dB,
                   fmt::format("the take holds another level, {} dB from the one that was used, for {:.0f} % of the "
                               "tone: take each by itself",
                               signedLevelText(whole.away_dB), 100.0 * whole.awayShare));
    otherLevel(used.straying_dB,
               fmt::format("the level strays by {} dB within the stretch that was used: keep the bench "
                           "still and take it again",
                           levelText(used.straying_dB)));
    if (used.live)
        return;
    if (2 * whole.another >= whole.atLevel && whole.another > 0)
        found.push_back({Flaw::Kind::otherTone, "one tone", whole.another * hop_s, 0.5 * whole.atLevel * hop_s, "s",
                         fmt::format("the take holds another tone as well, at {} for {:.1f} s: take each by itself",
                                     frequencyText(Hertz(whole.another_Hz)), whole.another * hop_s),
                         false});
    const bool littleOfSpan = span.atLevel < leastOfSpan * span.sound;
    const bool littleUsed = used.length_s < third * whole.sound * hop_s && whole.atLevel < leastOfSpan * whole.sound;
    if (littleOfSpan || littleUsed || whole.atLevel < leastOfTake * whole.sound) {
        const Part& p = littleOfSpan ? span : whole;
        found.push_back(
            {Flaw::Kind::smallPart, "the tone for most of the take", percent(p.atLevel, p.sound),
             100.0 * (littleOfSpan || littleUsed ? leastOfSpan : leastOfTake), "%",
             fmt::format("only {:.1f} s of {:.1f} s of sound are this tone at this level, undisturbed: keep the "
                         "bench quiet and take it again",
                         p.atLevel * hop_s, p.sound * hop_s),
             false});
    }
}

std::vector<Flaw> TakeWatch::flaws(const UsedStretch& used) const
{
    std::vector<Flaw> found;
    if (used.others_percent >= mostOthers_percent)
        found.push_back({Flaw::Kind::otherSound, "less than a tenth beside the tone", used.others_percent,
                         mostOthers_percent, "%",
                         fmt::format("{:.0f} % of the sound is not this tone: another tone, hum, distortion or noise; "
                                     "from 10 % on its level is not judged",
                                     used.others_percent),
                         false});
    addLost(found, used);
    addLevels(found, used);
    return found;
}

// Nine in ten of the steps that it takes go one way, and they come to more than a fiftieth.
std::string TakeWatch::movingTone() const
{
    constexpr std::size_t fewest = 10;
    constexpr double oneWay = 0.9, least = 0.02, noStep = 1e-4;
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
                       std::abs(last / first - 1.0) > least;
    if (!moves)
        return {};
    return fmt::format("the tone moves: from {} to {}; play one that stays where it is", frequencyText(Hertz(first)),
                       frequencyText(Hertz(last)));
}

} // namespace couplet
