// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/LiveTone.h"
#include "Bench/StretchFinder.h"
#include "Signal/Estimate.h"

#include <cstdint>
#include <optional>
#include <string>
#include <utility>

// Purpose: readings for a fit, taken live with both hands full: waits until the tone has been steady for two seconds,
//          averages two more, and asks for the tone to go away before another reading counts. A knock or a slip begins
//          anew. It knows nothing of where a reading goes. What was read has to go away before it is read again, even
//          when the capture was ended and begun anew.
// Shapes:  one Estimate every 50 ms, in order; while off too, so that a steady tone is known when it is asked for.
// Units:   dB, s.
// Source:  two seconds each, 30 dB above the noise, lifted when the tone is 6 dB down: method of this product, no source.
// Thread:  message (allocates some hundred bytes an estimate).
namespace couplet {

enum class FitCaptureState {
    off,
    waiting, // armed: for a steady tone
    reading, // the tone is steady, the average runs
    lift,    // a reading is kept or given up; the tone has to go away before the next counts
};

class FitCapture
{
public:
    // Begins anew, whatever ran; what was read already has to go away first. By hand: one reading, and off.
    void start(bool handsFree);
    void cancel();
    // What sounds belongs elsewhere: a reading under way is dropped, and the tone has to go away first.
    void giveUp(std::string why);
    // What was read is not on this bench any more.
    void forgetSeating() { toGoAway = awayBetween = false; }
    // No average runs while this holds; empty: none does.
    void hold(std::string why) { held = std::move(why); }
    // How far the level may stray from its mean: a calibrator's within the limit of its class, an earphone's 0.05 dB.
    void allowStraying(double limit_dB) { straying_dB = limit_dB; }
    void add(const Estimate&);
    void streamBegins(); // another sample rate, channel or source

    FitCaptureState state() const { return now; }
    bool runs() const { return now != FitCaptureState::off; }
    bool handsFree() const { return runs() && goesOn; }
    double progress() const; // 0 to 1, of the average
    const std::string& notice() const { return said; }
    // What the newest two seconds say, also while off.
    ToneSummary tone() const { return recent.summary(); }

    // A reading that is complete, once.
    std::optional<ToneSummary> taken();
    // Of the newest reading: the tone was seen to go away between it and the one before.
    bool seatedAnew() const { return wasSeatedAnew; }

private:
    void wait(const Estimate&);
    void read(const Estimate&);
    void watchLifting(const Estimate&);
    void beginAverage(const Estimate&);
    void restart(std::string why);
    void keep();
    std::string hindrance(const ToneSummary&) const;

    static constexpr std::size_t hopsLookedAt = 44; // two seconds, and what a stretch loses at its edges

    FitCaptureState now = FitCaptureState::off;
    bool goesOn = false;
    bool toGoAway = false; // was read or given up, and still sounds
    bool awayBetween = false, wasSeatedAnew = false;
    std::string held;
    double straying_dB = 0.15;
    LiveTone recent{hopsLookedAt};
    std::int64_t lastHop = 0;

    StretchFinder average;
    std::optional<ToneSummary> complete; // until it is certain that nothing slipped at its end
    double kept_s = 0.0;
    int hopsSinceComplete = 0, hopsSinceRestart = 0, hopsAway = 0, hopsWithoutTone = 0;
    std::int64_t clippedBefore = 0, brokenBefore = 0;
    double amplitudeRead = 0.0;
    std::string said;
    std::optional<ToneSummary> result;
};

} // namespace couplet
