// SPDX-License-Identifier: GPL-3.0-or-later
#include "Quantities/Decibels.h"
#include "Signal/ToneTracker.h"
#include "Signal/Weighting.h"

#include <algorithm>
#include <cmath>

// A tone whose level or speed wobbles: it is no single line, but it goes on without a jump, and it is the same tone.
namespace couplet {
namespace {

// What is left of the tone is a wobble's when it is more than noise makes of it, and than -66 dB of it: half a second of
// that, and each part is followed.
constexpr double leastLeft = 2.5e-7;
constexpr double leastOverNoise = 3.0;
constexpr double noiseInLeft = 1.3; // of a part's: what noise itself leaves there
constexpr int hopsToFollow = 20;

// Only a tone that is well above its noise is told to be the same by going on: 17 dB in a part; and within 2 dB, at a
// speed within some 4 % of what it had.
constexpr double mostNoise = 0.02;
constexpr double mostGrowth = 1.6;
constexpr double mostSpeed = 0.04;

} // namespace

void ToneTracker::subtractLines(FoldedChunk& chunk)
{
    const Phasor tone = remover.tone();
    const double omega = remover.toneOmega();
    remover(chunk);
    if (parts.add(chunk, tone, omega) && following > 0)
        remover.setTone(parts.ahead(0.5 * chunkLength), parts.omegaAhead());
}

// Lines are taken out from the next chunk on. A tone that wobbles is taken out as its newest part had it.
void ToneTracker::takeOut(const LineSet& audible)
{
    const Phasor tone = remover.tone();
    const double omega = remover.toneOmega();
    const bool keeps = following > 0 && (tone.re != 0.0 || tone.im != 0.0);
    remover.set(audible, fit.tuning, (chunks + 0.5) * chunkLength - 0.5 * hopLengthSamples);
    if (keeps)
        remover.setTone(tone, omega);
}

void ToneTracker::judgeParts()
{
    heardBefore = heard.known ? heard.power : 0.0;
    heard = parts.end();
    const bool even = heard.known && !heard.jumped;
    evenHops = even ? evenHops + 1 : 0;
    hopsSinceJump = heard.known && heard.jumped ? 0 : hopsSinceJump + 1;
    const bool wobbles =
        even && heard.power > 0.0 &&
        std::max(heard.deviation, heard.excess) > leastLeft * heard.power + leastOverNoise * heard.noise;
    following = wobbles ? hopsToFollow : heard.known ? std::max(0, following - 1) : 0;
}

// A short window takes what a tone that wobbles leaves for hum beside it: an order near the tone is then believed to be
// no stronger than those that stand away from it. These hold some of the wobble as well, now more and now less; hum is
// there in each hop.
bool ToneTracker::mayBeWobble(int line) const
{
    constexpr int shortWindow = 10; // hops
    const int order = line - firstMainsLine + 1;
    const bool mayBe = following > 0 && evenHops > 0 && (fit.hops < shortWindow || heard.modulated);
    return mayBe && order >= 1 && order <= mainsOrders && isNearTone(order) &&
           magnitude(fit.atCentre.line[static_cast<std::size_t>(line)]) > leastAway;
}

bool ToneTracker::isNearTone(int order) const
{
    constexpr double ordersNear = 3.5;
    return std::abs(order * fit.tuning.mains - fit.tuning.tone) < ordersNear * fit.tuning.mains;
}

void ToneTracker::noteHumAway()
{
    constexpr double rise = 1.02; // a hop: hum that grows is believed within two seconds
    double away = 0.0;
    for (int k = 1; k <= mainsOrders; ++k)
        if (!isNearTone(k))
            away = std::max(away, magnitude(fit.atCentre.line[static_cast<std::size_t>(firstMainsLine + k - 1)]));
    leastAway = following > 0 && leastAway > 0.0 ? std::min(away, rise * leastAway) : away;
}

// Its harmonics turn with it, and are taken out as lines of one frequency.
WobbleLeft ToneTracker::wobbleLeft() const
{
    constexpr double share = 0.25,
                     shareOfExcess = 2e-2; // what the newest part foretold, and how far the next one bends
    WobbleLeft wobble;
    if (following == 0)
        return wobble;
    wobble.left = 0.5 * std::max(0.0, heard.deviation - noiseInLeft * heard.noise);
    wobble.unsure = share * wobble.left + shareOfExcess * heard.excess;
    for (std::size_t k = 1; k < toneOrders; ++k) {
        const double a = magnitude(fit.atCentre.line[k]);
        wobble.unsure += 0.5 * a * a;
    }
    if (fit.tuning.tone > 0.0)
        wobble.gainA = ratioFrom_dB(weightingA_dB(fit.tuning.tone * sampleRate / (2.0 * pi)));
    return wobble;
}

// The hop's power is then that of its parts: one line fitted to it alone gives way to what bends.
bool ToneTracker::wobblesInParts() const
{
    return heard.known && evenHops > 0 && (heard.modulated || (following > 0 && heard.noise < mostNoise * heard.power));
}

bool ToneTracker::goesOnEvenly() const
{
    return heard.known && hopsSinceJump >= hopsOfCalm && heard.power > 0.0 && heard.noise < mostNoise * heard.power &&
           heardBefore > heard.power / mostGrowth && heardBefore < heard.power * mostGrowth &&
           std::abs(heard.omega - fit.tuning.tone) < mostSpeed * fit.tuning.tone;
}

} // namespace couplet
