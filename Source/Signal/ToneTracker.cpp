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

// The newest two hops are looked into while the next ones come.
constexpr int hopsLookedBack = 5;
constexpr int quietHops = 20; // over which the mains is told when there is no tone

// A hop is not as foretold when its tone is off by more than an eighth or six standard deviations; two in a row are a
// new tone.
constexpr double mostMiss = 0.12;
constexpr double missSigmas = 6.0;
constexpr int missesOfNewTone = 2;

constexpr int fewestLowHops = 4;
constexpr int hopsOfBeating = 20;
constexpr double mainsWander_Hz = 0.5;
constexpr double mainsSigma_Hz = 0.05; // of a grid's frequency about its nominal (common practice, no source)

} // namespace

ToneTracker::ToneTracker(double sampleRate_Hz, double window_s)
    : sampleRate(sampleRate_Hz), hopLengthSamples(hopLength(sampleRate_Hz)), chunksInHop(chunksPerHop(sampleRate_Hz)),
      windowHops(std::max(2, static_cast<int>(std::lround(window_s * sampleRate_Hz / hopLengthSamples)))),
      summer(hopLengthSamples), raw(hopsLookedBack * chunksInHop), replay(chunksInHop),
      ring(std::max(windowHops, quietHops)), trial(2), fitWindow(hopLengthSamples), acquisition(sampleRate_Hz),
      mains(hopLengthSamples)
{
    restart();
}

void ToneTracker::restart()
{
    mains.believe(50.0);
    breakOff();
}

void ToneTracker::breakOff()
{
    state = State::searching;
    stage = Stage::reported;
    chunks = 0;
    hopsHeard = hopEnd = 0;
    missed = watching = retakes = 0;
    lostLow = {};
    catchingUp = false;
    changed = true;
    raw.clear();
    ring.clear();
    mains.forget();
    acquisition.stop();
    fit = {};
    foretold = present = {};
    result = {};
    const double hz = 2.0 * pi / sampleRate;
    fit.tuning = {1000.0 * hz, mains.believed_Hz() * hz, mains.other_Hz() * hz};
    summer.tune(fit.tuning);
    summer.begin();
}

bool ToneTracker::add(const float* chunk, const FoldedChunk& folds)
{
    raw.push(chunk);
    summer.add(folds);
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

int ToneTracker::hopsAlone(double tone) const
{
    return tone * sampleRate > 2.0 * pi * lowTone_Hz ? 1 : 2;
}

FitRequest ToneTracker::requestFor(int hops, const LineTuning& start) const
{
    FitRequest request;
    request.hops = hops;
    request.start = start;
    request.rounds = 2;
    // A few periods of a low tone and of the mains say too little of either to tell their frequencies apart.
    request.refineMains = hopsAlone(start.tone) == 1 || hops >= fewestLowHops;
    request.mainsNominal = 2.0 * pi * mains.believed_Hz() / sampleRate;
    request.mainsSigma = 2.0 * pi * mainsSigma_Hz / sampleRate;
    return request;
}

void ToneTracker::endHop()
{
    ++hopsHeard;
    hopEnd = raw.end();
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
            foretold = present = moved(foretold, fit.tuning, hopLengthSamples);
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
            acquisition.begin(fit.tuning, hopEnd, hopsHeard > 2);
        return true;
    case Stage::reported:
        break;
    }
    return false;
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

// The hop's tone sum as all lines of the window and its constant foretell it; a bare tone would not do, since the
// constant and the hum leak into a single hop.
Phasor ToneTracker::foretoldToneSum() const
{
    const LineTuning& tuning = summer.tuning();
    const Dirichlet kernel(hopLengthSamples);
    const HalfAngles tone = kernel.anglesOf(tuning.tone);
    Phasor z{foretold.dc * kernel.at(tone).value, 0.0};
    for (int line = 0; line < lineCount; ++line) {
        if (!fit.solved[idx(line)])
            continue;
        const HalfAngles a = kernel.anglesOf(tuning.omega(line));
        const Phasor c = 0.5 * foretold.line[idx(line)];
        z += kernel.at(differenceOf(a, tone)).value * c;
        z += kernel.at(sumOf(a, tone)).value * conjugate(c);
    }
    return z;
}

// z = a c + b c* for an amplitude c, solved for c.
Phasor ToneTracker::toneOf(Phasor z) const
{
    const double a = 0.5 * hopLengthSamples;
    const double b = 0.5 * Dirichlet(hopLengthSamples).at(2.0 * summedTone).value;
    return (1.0 / (a * a - b * b)) * (a * z - b * conjugate(z));
}

void ToneTracker::judgeHop()
{
    const Phasor deviation = toneOf(newest.sum[0] - foretoldToneSum());
    hopTone = foretold.line[0] + deviation;
    const double sigma = std::sqrt(2.0 * fit.noiseVariance / hopLengthSamples);
    const bool asForetold = magnitude(deviation) < std::max(mostMiss * fit.amplitude, missSigmas * sigma);
    missed = asForetold ? 0 : missed + 1;
    if (asForetold)
        state = State::following;
    else if (missed >= missesOfNewTone)
        lose();
}

void ToneTracker::lose()
{
    if (hopsAlone(fit.tuning.tone) == 2)
        lostLow = {hopsHeard, lostLow[0], lostLow[1]};
    state = State::searching;
    fit.valid = false;
    catchingUp = false;
}

// A low tone that is found and lost again and again is two that beat: itself and hum.
bool ToneTracker::keepsLosingLow() const
{
    return lostLow.back() > 0 && hopsHeard - lostLow.back() < hopsOfBeating && hopsAlone(fit.tuning.tone) == 2;
}

void ToneTracker::fitWindowNow()
{
    const Fit next = fitWindow(ring, requestFor(std::min(ring.size(), windowHops), fit.tuning));
    if (!next.valid) {
        lose();
        return;
    }
    accept(next);
    foretell(1.0);
    watchForChange();
}

// Makes a fit the present one.
void ToneTracker::accept(const Fit& found)
{
    fit = found;
    const double nominal = 2.0 * pi * mains.believed_Hz() / sampleRate;
    if (std::abs(fit.tuning.mains - nominal) > 2.0 * pi * mainsWander_Hz / sampleRate)
        fit.tuning.mains = nominal;
    if (onMainsItself()) // its own lines are then the tone's, and no family can be told
        mains.forget();
}

// The lines at the centre of the hop that comes so many hops after the newest of the window.
void ToneTracker::foretell(double hopsAhead)
{
    foretold = moved(fit.atCentre, fit.tuning, (0.5 * (fit.hops - 1) + hopsAhead) * hopLengthSamples);
    present = foretold;
    if (state != State::searching)
        present.line[0] = hopTone * unitPhasor(fit.tuning.tone * hopsAhead * hopLengthSamples);
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
