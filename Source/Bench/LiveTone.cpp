// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/LiveTone.h"

#include "Bench/StretchFinder.h"
#include "Quantities/Decibels.h"

#include <algorithm>

namespace couplet {

void LiveTone::add(const Estimate& e)
{
    if (!recent.empty() && e.hop <= recent.back().hop) // the stream began anew
        recent.clear();
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
    const Estimate& last = recent.back();
    s.headroom_dB = peak > 0.0 ? std::optional(std::max(0.0, -decibels(peak))) : std::nullopt;
    s.clippedSamples = last.clippedSamples - recent.front().clippedSamples;
    s.brokenSamples = last.brokenSamples - recent.front().brokenSamples;
    if (!last.tone.held() || !(last.tone.amplitude > 0.0)) {
        s.level_dBFS.reset();
        s.whyNoLevel = whyNoTone(last.tone.reason, last.tone);
        return s;
    }
    s.level_dBFS = decibels(last.tone.amplitude);
    s.frequency = Hertz(last.tone.frequency_Hz);
    s.whyNoLevel.clear();
    s.disturbances = 0; // what was, is over
    return s;
}

} // namespace couplet
