// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/TakeWatch.h"

#include "Quantities/Decibels.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

// What the pieces of a take say of the stretch that was used.
namespace couplet {
namespace {

constexpr double thisTone = 0.02;  // of its frequency: more than a calibrator of class 2 may be off (IEC 60942)
constexpr double atLevel_dB = 0.3; // twice what a calibrator of class 2 may fluctuate (IEC 60942)
constexpr int shortestStay = 10;   // hops, half a second: what passes through a level was not there
constexpr double longStay = 40.0;  // hops, two seconds
constexpr double near_dB = 6.0;    // a seat or a contact; further below, a calibrator lies beside its seat
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

bool TakeWatch::isThis(const Piece& p, const UsedStretch& used)
{
    return p.clean && std::abs(p.frequency_Hz - used.frequency_Hz) <= thisTone * used.frequency_Hz;
}

// Which pieces belong to half a second or more at one level, noise and wobble aside.
std::vector<bool> TakeWatch::stays(const UsedStretch& used) const
{
    std::vector<bool> stay(pieces.size(), false);
    for (std::size_t i = 0; i < pieces.size();) {
        std::size_t end = i;
        int hops = 0;
        double mean_dB = pieces[i].level_dB;
        while (end < pieces.size() && isThis(pieces[end], used) &&
               std::abs(pieces[end].level_dB - mean_dB) <= atLevel_dB) {
            hops += pieces[end].hops;
            mean_dB += (pieces[end].level_dB - mean_dB) * pieces[end].hops / hops;
            ++end;
        }
        for (std::size_t k = i; k < end; ++k)
            stay[k] = hops >= shortestStay;
        i = std::max(end, i + 1);
    }
    return stay;
}

// Of the pieces given: the deviation that for so large a share of the tone's time is reached or exceeded.
TakeWatch::Part TakeWatch::partOf(const UsedStretch& used, std::size_t from, std::size_t end,
                                  const Counted& counted) const
{
    Part part;
    const auto stay = stays(used);
    std::vector<std::pair<double, int>> away;
    for (std::size_t i = from; i < end; ++i) {
        const Piece& p = pieces[i];
        const bool isUsed = isThis(p, used);
        if (isUsed || p.level_dB >= used.level_dBFS - loud_dB)
            part.sound += p.hops;
        if (p.clean && !isUsed && p.level_dB >= used.level_dBFS - loud_dB) {
            part.another += p.hops;
            part.another_Hz = p.frequency_Hz;
        }
        if (!isUsed)
            continue;
        part.tone += p.hops;
        const double away_dB = p.level_dB - used.level_dBFS;
        if ((stay[i] || !counted.stays) && away_dB >= counted.lowest_dB)
            away.emplace_back(away_dB, p.hops);
        if (std::abs(away_dB) <= atLevel_dB)
            part.atLevel += p.hops;
    }
    std::sort(away.begin(), away.end(),
              [](const auto& a, const auto& b) { return std::abs(a.first) > std::abs(b.first); });
    const double enough = std::min(counted.share * part.tone, counted.enough);
    int hops = 0;
    for (const auto& [dB, count] : away) {
        hops += count;
        if (hops < enough)
            continue;
        part.away_dB = dB;
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
        const bool isAtLevel = isThis(p, used) && std::abs(p.level_dB - used.level_dBFS) <= atLevel_dB;
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
    const Part all = partOf(used, 0, pieces.size(), {stillMoves ? tenth : third, !stillMoves});
    const Part stayed = partOf(used, 0, pieces.size(), {tenth, true, -near_dB, longStay});
    const Part& whole = std::abs(stayed.away_dB) > std::abs(all.away_dB) && !stillMoves ? stayed : all;
    const Part span = partOf(used, from, end, {tenth});
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
    const Recurring up = recurring(used);
    const auto isTold = [&](const Flaw& f) { return f.kind == Flaw::Kind::otherLevel && f.size > 0.5 * up.up_dB; };
    if (up.times > 0 && std::none_of(found.begin(), found.end(), isTold))
        otherLevel(
            up.up_dB,
            fmt::format("the tone stood {} dB above the level that was used {} times, for {:.0f} % of the time: is "
                        "a contact right only now and then? Mend it and take it again",
                        levelText(up.up_dB), up.times, std::max(1.0, 100.0 * up.share)));
    otherLevel(used.straying_dB,
               fmt::format("the level strays by {} dB within the stretch that was used: keep the bench "
                           "still and take it again",
                           levelText(used.straying_dB)));
    if (used.live)
        return;
    if (auto moving = movingTone(); !moving.empty()) {
        found.push_back({Flaw::Kind::otherTone, "one frequency",
                         100.0 * std::abs(heard_Hz.back() / heard_Hz.front() - 1.0), 100.0 * leastMove, "%",
                         std::move(moving), false});
        return;
    }
    if (2 * whole.another >= whole.atLevel && whole.another > 0)
        found.push_back({Flaw::Kind::otherTone, "one tone", whole.another * hop_s, 0.5 * whole.atLevel * hop_s, "s",
                         fmt::format("the take holds another tone as well, at {} for {:.1f} s: take each by itself",
                                     frequencyText(Hertz(whole.another_Hz)), whole.another * hop_s),
                         false});
    const bool littleOfSpan = span.atLevel < leastOfSpan * span.sound;
    const bool littleUsed = used.length_s < third * whole.sound * hop_s && whole.atLevel < leastOfSpan * whole.sound;
    if (littleOfSpan || littleUsed || whole.atLevel < leastOfTake * whole.sound) {
        found.push_back(
            {Flaw::Kind::smallPart, "the tone for most of the take", percent(whole.atLevel, whole.sound),
             100.0 * (littleOfSpan || littleUsed ? leastOfSpan : leastOfTake), "%",
             fmt::format("only {:.1f} s of {:.1f} s of sound are this tone at this level, undisturbed: keep the "
                         "bench quiet and take it again",
                         whole.atLevel * hop_s, whole.sound * hop_s),
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

} // namespace couplet
