// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/ToneTracker.h"

#include "Signal/MomentCorrection.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace couplet {
namespace {

constexpr auto idx(int i)
{
    return static_cast<std::size_t>(i);
}

// The newest hops, up to so many as are summed again, are looked into while the next ones come.
constexpr int hopsLookedBack = Replay::mostHops + 2;
constexpr int mostRetakenWindows = 2; // in a row
constexpr int quietHops = 20;         // over which the mains is told when there is no tone

constexpr int hopsOfBeating = 20;

} // namespace

ToneTracker::ToneTracker(double sampleRate_Hz, double window_s)
    : sampleRate(sampleRate_Hz), hopLengthSamples(hopLength(sampleRate_Hz)), chunksInHop(chunksPerHop(sampleRate_Hz)),
      windowHops(std::max(2, static_cast<int>(std::lround(window_s * sampleRate_Hz / hopLengthSamples)))),
      summer(hopLengthSamples), parts(chunksInHop, sampleRate_Hz), raw(hopsLookedBack * chunksInHop),
      replay(chunksInHop), ring(std::max(windowHops, quietHops), hopLengthSamples), trial(4, hopLengthSamples),
      fitWindow(hopLengthSamples), acquisition(sampleRate_Hz), mains(hopLengthSamples), mainsFrequency(sampleRate_Hz)
{
    restart();
}

void ToneTracker::restart()
{
    believeMains(50.0);
    breakOff();
}

void ToneTracker::breakOff()
{
    state = State::searching;
    stage = Stage::reported;
    chunks = 0;
    hopsHeard = hopEnd = 0;
    missed = watching = retakes = retakenWindows = 0;
    lostLow = {};
    catchingUp = false;
    changed = true;
    raw.clear();
    ring.clear();
    mains.forget();
    acquisition.stop();
    acquisition.forgetCrowd();
    fit = {};
    quietMains = {};
    quietKnown = {};
    foretold = {};
    remover = {};
    parts.forget();
    heard = {};
    heardBefore = leastAway = 0.0;
    evenHops = following = hopsSinceJump = 0;
    slid = false;
    result = {};
    const double hz = 2.0 * pi / sampleRate;
    fit.tuning = {1000.0 * hz, mainsFrequency.omega(), mains.other_Hz() * hz};
    summer.tune(fit.tuning);
    summer.begin();
}

bool ToneTracker::add(const float* chunk, const FoldedChunk& folds, double total, double power)
{
    raw.push(chunk);
    summer.add(folds, total, power);
    if (++chunks == chunksInHop) {
        chunks = 0;
        endHop();
        const bool reported = work();
        beginHop();
        return reported;
    }
    if (stage == Stage::reported) {
        workInBackground();
        return false;
    }
    if (chunks == chunksInHop - 1) { // only at rates so low that a hop has a dozen chunks
        finish();
        return true;
    }
    return work();
}

void ToneTracker::finish()
{
    while (stage != Stage::reported)
        work();
}

void ToneTracker::abandon()
{
    stage = Stage::report;
    work();
}

int ToneTracker::hopsAlone(double tone) const
{
    return tone * sampleRate > 2.0 * pi * lowTone_Hz ? 1 : 2;
}

FitRequest ToneTracker::requestFor(int hops, const LineTuning& start) const
{
    FitRequest request;
    request.hops = hops;
    request.start = start;
    return request;
}

void ToneTracker::endHop()
{
    ++hopsHeard;
    hopEnd = raw.end();
    judgeParts();
    newest = summer.sums();
    summedTone = newest.tuning.tone;
    if (!catchingUp) {
        if (state != State::searching)
            correctMoments(newest, foretold, chunksInHop);
        ring.push(newest);
        if (state != State::searching)
            judgeHop();
        mains.hear(newest);
    }
    stage = Stage::window;
}

void ToneTracker::beginHop()
{
    if (!(fit.tuning == summer.tuning()))
        summer.tune(fit.tuning);
    summer.begin();
    parts.begin(state == State::searching ? 0.0 : fit.tuning.tone);
}

// One piece of what is to be done for the hop that has ended; true when its estimate is out.
bool ToneTracker::work()
{
    switch (stage) {
    case Stage::window:
        stage = Stage::report;
        if (state == State::searching)
            lookAtQuiet();
        else if (catchingUp)
            foretold = moved(foretold, fit.tuning, hopLengthSamples);
        else
            fitWindowNow();
        // Steady tones are reported with the hop's last chunk.
        return stage == Stage::report ? work() : false;
    case Stage::alone:
        fitNewestAlone();
        return false;
    case Stage::retaking:
        if (replay.upTo(raw, hopEnd, chunksAtOnce))
            judgeAlone();
        return false;
    case Stage::report:
        stage = Stage::reported;
        publish();
        if (state == State::searching && hopsHeard >= 2 && !acquisition.isRunning() && !catchingUp)
            acquisition.begin(fit.tuning, hopEnd, hopsHeard);
        else
            lookBesideMains();
        return true;
    case Stage::reported:
        break;
    }
    return false;
}

// While the mains is taken for the tone, and leaves so much that there may be one nearly as strong. The lines of the mains
// that is believed in are then those of the other family, and may hold the tone as well.
void ToneTracker::lookBesideMains()
{
    constexpr double leastShare = 0.3, leastLeft = 0.02; // of the mains' amplitude; of its square
    if (state != State::following || !onMainsItself() || catchingUp || acquisition.isRunning())
        return;
    double left = fit.noiseVariance;
    for (const double a : mainsAmplitudes())
        left += 0.5 * a * a;
    if (left > leastLeft * fit.amplitude * fit.amplitude)
        acquisition.beginBeside(fit, leastShare * fit.amplitude, hopEnd, hopsHeard);
}

// Between reports: one piece of what may change the next hop.
void ToneTracker::workInBackground()
{
    if (catchingUp) {
        if (replay.upTo(raw, raw.end(), chunksAtOnce))
            caughtUp();
    }
    else if (mains.isLooking()) {
        if (mains.step(fit.tuning, state != State::searching))
            changeFamily();
    }
    else if (acquisition.isRunning() && acquisition.step(raw) == ToneAcquisition::Progress::found)
        acquired();
}

void ToneTracker::lose()
{
    if (hopsAlone(fit.tuning.tone) == 2)
        lostLow = {hopsHeard, lostLow[0], lostLow[1]};
    state = State::searching;
    fit.valid = false;
    catchingUp = false;
    acquisition.forgetCrowd();
}

// A low tone that is found and lost again and again is two that beat: itself and hum.
bool ToneTracker::keepsLosingLow() const
{
    return lostLow.back() > 0 && hopsHeard - lostLow.back() < hopsOfBeating && hopsAlone(fit.tuning.tone) == 2;
}

void ToneTracker::fitWindowNow()
{
    const Fit next = fitWindow(ring, requestFor(std::min(ring.size(), windowHops), fit.tuning));
    if (next.valid && !next.consistent && isBesideHum() && ++retakenWindows <= mostRetakenWindows) {
        retakeWindow(next.tuning);
        return;
    }
    const bool holds = next.valid && next.consistent;
    if (!holds && !slid) {
        lose();
        return;
    }
    retakenWindows = 0;
    if (holds) {
        accept(next);
        foretell(1.0);
    }
    if (slid) // the window holds more than one tone can be
        stage = Stage::alone;
    else
        watchForChange();
}

// Makes a fit the present one.
void ToneTracker::accept(const Fit& found)
{
    fit = found;
    if (onMainsItself()) // its own lines are then the tone's, and no family can be told
        mains.forget();
}

// The lines at the centre of the hop that comes so many hops after the newest of the window.
void ToneTracker::foretell(double hopsAhead)
{
    foretold = moved(fit.atCentre, fit.tuning, (0.5 * (fit.hops - 1) + hopsAhead) * hopLengthSamples);
    // What stands out of the noise is taken out of it; the tone as the newest hop had it.
    LineSet audible = foretold;
    for (int line = 0; line < lineCount; ++line)
        if (!standsOutOfNoise(line))
            audible.line[idx(line)] = {};
    if (state != State::searching)
        audible.line[0] = hopTone * unitPhasor(fit.tuning.tone * hopsAhead * hopLengthSamples);
    takeOut(audible);
}

// A line in noise has a squared amplitude of 4 variance / N on average; ten times that is there by chance once in 20 000.
bool ToneTracker::standsOutOfNoise(int line) const
{
    constexpr double times = 10.0;
    const double a = magnitude(fit.atCentre.line[idx(line)]);
    return fit.solved[idx(line)] && a * a * fit.samples > times * 4.0 * fit.noiseVariance && !mayBeWobble(line);
}

// No tone: what the mains and the constant are is still told.
void ToneTracker::lookAtQuiet()
{
    fit.valid = false;
    FitRequest request = requestFor(std::min(ring.size(), quietHops), fit.tuning);
    request.tone = request.refine = false;
    if (const Fit quiet = fitWindow(ring, request); quiet.valid) {
        const LineTuning tuning = fit.tuning;
        fit = quiet;
        fit.tuning = tuning;
    }
    foretell(1.0);
}

} // namespace couplet
