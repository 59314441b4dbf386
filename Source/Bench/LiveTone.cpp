// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveTone.h"

#include "Bench/StretchFinder.h"
#include "Quantities/Decibels.h"

#include <algorithm>

namespace couplet {
namespace {

// A note that is struck, bowed or sung never stays the same for long enough to have a stretch, and begins anew again and
// again: it is judged by what was held of the last second. A tone that is put on, or whose volume is changed, begins anew
// once or twice.
constexpr std::size_t hopsOfUnrest = 20;
constexpr int fewestBeginnings = 3;
constexpr double restless_s = 0.5, restless_dB = 0.2;

// The largest deviation of a hop's level from the mean of those that hold a tone; absent of one that has not begun anew.
std::optional<double> unrest_dB(const std::deque<Estimate>& recent)
{
    double sum = 0.0, lowest = 0.0, highest = 0.0;
    int held = 0, beginnings = 0;
    const auto from = recent.size() - std::min(recent.size(), hopsOfUnrest);
    for (auto e = recent.begin() + static_cast<std::ptrdiff_t>(from); e != recent.end(); ++e) {
        beginnings += e->tone.restarted ? 1 : 0;
        if (!e->tone.held() || !(e->tone.hopAmplitude > 0.0))
            continue;
        const double level_dB = decibels(e->tone.hopAmplitude);
        lowest = held == 0 ? level_dB : std::min(lowest, level_dB);
        highest = held == 0 ? level_dB : std::max(highest, level_dB);
        sum += level_dB;
        ++held;
    }
    if (held < 2 || beginnings < fewestBeginnings)
        return {};
    return std::max(highest - sum / held, sum / held - lowest);
}

} // namespace

void LiveTone::add(const Estimate& e)
{
    if (!recent.empty() && e.hop <= recent.back().hop) { // the stream began anew
        recent.clear();
        beginning = {};
    }
    beginning.add(e);
    recent.push_back(e);
    if (recent.size() > hopsKept)
        recent.pop_front();
}

ToneSummary LiveTone::summary() const
{
    if (recent.empty()) {
        ToneSummary nothing;
        nothing.whyNoLevel = "no audio has arrived yet";
        return nothing;
    }
    StretchFinder finder;
    double peak = 0.0;
    for (const Estimate& e : recent) {
        finder.add(e);
        peak = std::max(peak, e.hopPeak);
    }
    ToneSummary s = finder.newest();
    s.live = true;
    s.onset = beginning.onset();
    const Estimate& last = recent.back();
    s.headroom_dB = peak > 0.0 ? std::optional(headroomOf(peak)) : std::nullopt;
    s.clippedSamples = last.clippedSamples - recent.front().clippedSamples;
    s.brokenSamples = last.brokenSamples - recent.front().brokenSamples;
    s.brokenSecondSamples = last.brokenSecondSamples - recent.front().brokenSecondSamples;
    if (!last.tone.held() || !(last.tone.amplitude > 0.0)) {
        s.level_dBFS.reset();
        s.whyNoLevel = whyNoTone(last.tone.reason, last.tone);
        return s;
    }
    if (!s.wobbles || !s.level_dBFS) { // a window of a tone that wobbles is too short to say its level
        s.level_dBFS = decibels(last.tone.amplitude);
        s.frequency = Hertz(last.tone.frequency_Hz);
    }
    s.whyNoLevel.clear();
    s.disturbances = 0; // what was, is over
    if (const auto unrest = unrest_dB(recent); s.stretch_s < restless_s && unrest && *unrest > restless_dB)
        s.steadiness_dB = std::max(*unrest, s.steadiness_dB.value_or(0.0));
    return s;
}

} // namespace couplet
