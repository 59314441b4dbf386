// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ToneTracker.h"

#include "Signal/MomentCorrection.h"

#include <algorithm>
#include <cmath>

// When the tone is another one: noticing it, and going on with the hops that are surely its own.
namespace couplet {
namespace {

// What a window leaves grows when it holds two tones: the first pair starts the watch, the second decides.
constexpr double noiseRise = 1.15, noiseRiseOfPower = 2e-6;
constexpr double noiseExcess = 1.3, noiseExcessOfPower = 1e-5;
constexpr int hopsOfWatch = 6;

// Hum that a stretch cannot part from the tone and is stronger than this share of it would pass for a change of the tone.
constexpr double humThatMatters = 0.005;
constexpr double oneLine = 0.5 * pi; // rad over the longest window
constexpr int mostHopsAlone = 4;

constexpr double retuneAngle = 0.1; // rad a hop: beyond it a hop's sums are taken again
constexpr int mostRetakes = 4;

bool standsOut(const Fit& f)
{
    return f.valid && f.amplitude * f.amplitude > 0.5 * f.noiseVariance;
}

} // namespace

// A tone that has moved by little is not missed, but the window then holds two tones and leaves more noise. For a
// while the newest hop alone is held against it.
void ToneTracker::watchForChange()
{
    const double power = fit.amplitude * fit.amplitude;
    if (watching == 0 && fit.noiseVariance > noiseRise * quietNoise + noiseRiseOfPower * power)
        watching = hopsOfWatch;
    if (watching == 0)
        noteQuietMains(false);
    else if (const int hops = hopsToWatch(); hops == 0)
        watched();
    else if (ring.size() > hops)
        stage = Stage::alone;
}

void ToneTracker::watched()
{
    if (--watching > 0)
        return;
    quietNoise = fit.noiseVariance;
    noteQuietMains(false);
}

// As few of the newest hops as can part the tone and its orders from the hum that stands beside them; 0: none of those
// that may be held against the window can.
int ToneTracker::hopsToWatch() const
{
    if (onMainsItself()) // a long window is what parts another tone from it
        return 0;
    const int fewest = hopsAlone(fit.tuning.tone);
    if (fewest > 1) // of a low tone too little is known to tell hum beside it from its own change
        return fewest;
    double hops = fewest;
    for (int k = 1; k <= toneOrders; ++k) {
        const double order = std::round(k * fit.tuning.tone / fit.tuning.mains);
        const double apart = std::abs(k * fit.tuning.tone - order * fit.tuning.mains);
        const bool isOne = apart * windowHops * hopLengthSamples < oneLine; // beats too slowly to pass for a change
        if (order >= 1.0 && order <= mainsOrders && !isOne &&
            mainsOrderBeside(static_cast<int>(order)) >= humThatMatters * fit.amplitude)
            hops = std::max(hops, std::ceil(partedBy / (apart * hopLengthSamples)));
    }
    return hops <= mostHopsAlone ? static_cast<int>(hops) : 0;
}

void ToneTracker::fitNewestAlone()
{
    const int hops = hopsToWatch();
    trial.clear();
    for (int age = hops - 1; age >= 0; --age)
        trial.push(ring[age]);
    retakes = 0;
    aloneTuning = trial[0].tuning;
    LineTuning start = fit.tuning;
    if (slid)
        start.tone = heard.omega;
    alone = fitWindow(trial, requestFor(hops, start));
    judgeAlone();
}

void ToneTracker::judgeAlone()
{
    const int hops = trial.size();
    if (stage == Stage::retaking) {
        trial.clear();
        for (int age = hops - 1; age >= 0; --age)
            trial.push(replay.whole()[age]);
        alone = fitWindow(trial, requestFor(hops, aloneTuning));
    }
    const bool farOff = std::abs(alone.tuning.tone - aloneTuning.tone) * hopLengthSamples > retuneAngle;
    if (standsOut(alone) && farOff && retakes < mostRetakes) {
        ++retakes;
        aloneTuning = alone.tuning;
        replay.begin(aloneTuning, newestHops(hops));
        stage = Stage::retaking;
        return;
    }
    stage = Stage::report;
    const double power = fit.amplitude * fit.amplitude;
    const bool isAnother = slid || fit.noiseVariance > noiseExcess * alone.noiseVariance + noiseExcessOfPower * power;
    slid = false;
    if (standsOut(alone) && alone.consistent && !farOff && isAnother) {
        goOnFrom(trial, alone);
        resume(hopEnd);
    }
    watched();
}

// The hops given are all that is known of the tone; `found` is their fit.
void ToneTracker::goOnFrom(const HopRing& hops, const Fit& found)
{
    ring.clear();
    for (int age = hops.size() - 1; age >= 0; --age) {
        HopSums hop = hops[age];
        const double fromCentre = (0.5 * (hops.size() - 1) - age) * hopLengthSamples;
        correctMoments(hop, moved(found.atCentre, found.tuning, fromCentre), chunksInHop);
        ring.push(hop);
    }
    accept(found);
    noteQuietMains(true);
    hopTone = moved(found.atCentre, found.tuning, 0.5 * (hops.size() - 1) * hopLengthSamples).line[0];
    missed = 0;
    watching = hopsOfWatch;
    changed = true;
}

// Hum that could not be parted from the tone has led its frequency astray, and the hops were summed there: they are taken
// again where the window that can part them says that it is.
void ToneTracker::retakeWindow(const LineTuning& tuning)
{
    const int hops = std::min(ring.size(), Replay::mostHops);
    fit.tuning = tuning;
    changed = true;
    watching = hopsOfWatch;
    ring.clear();
    acquisition.stop();
    resume(newestHops(hops));
}

// The sums of the hop under way are of another tuning: they are taken again from a chunk that begins a hop.
void ToneTracker::resume(long firstChunk)
{
    catchingUp = true;
    replay.begin(fit.tuning, firstChunk);
}

void ToneTracker::caughtUp()
{
    catchingUp = false;
    std::swap(summer, replay.running());
    if (ring.size() == 0) { // the mains' family has changed, and no fit is of use
        const Fit again = fitWindow(replay.whole(), requestFor(replay.whole().size(), fit.tuning));
        if (!again.valid) {
            lose();
            return;
        }
        goOnFrom(replay.whole(), again);
        foretell(1.0);
        return;
    }
    int since = 0; // hops that have ended on the way
    for (int age = replay.whole().size() - 1; age >= 0; --age, ++since)
        ring.push(replay.whole()[age]);
    foretell(1.0 + since);
}

void ToneTracker::acquired()
{
    mains.forget();
    const Fit& found = acquisition.fit();
    if (found.tuning.mains == fit.tuning.otherMains)
        believeMains(mains.other_Hz());
    goOnFrom(acquisition.heard(), found);
    state = State::confirming;
    hopsSinceJump = hopsOfCalm;
    quietNoise = 0.0;
    resume(acquisition.end());
}

// MainsWatch has just changed its belief. Sums taken for the other family are of no use to this one.
void ToneTracker::changeFamily()
{
    believeMains(mains.believed_Hz());
    changed = true;
    watching = hopsOfWatch;
    quietMains = {};
    quietKnown = {};
    ring.clear();
    acquisition.stop();
    if (state == State::searching)
        return; // the next hop is the first of the new family
    resume(newestHops(hopsAlone(fit.tuning.tone)));
}

} // namespace couplet
