// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/LiveTone.h"
#include "Bench/QuickCheck.h"
#include "Bench/ReferenceTaking.h"
#include "Bench/StretchFinder.h"
#include "Signal/Estimate.h"

#include <deque>
#include <optional>
#include <string>
#include <vector>

// Purpose: a reference, a quick check or a calibrator's second level taken live: waits until the tone is fit, averages,
//          begins anew after a knock or a slip, asks for the calibrator to be lifted between seatings. It knows nothing
//          of where a reference is kept.
// Shapes:  one Estimate every 50 ms, in order; while idle too, so that a steady tone is known when it is asked for.
// Units:   s.
// Source:  steady for 3 s, then 10 s: method of this product.
// Thread:  message (allocates some hundred bytes an estimate).
namespace couplet {

enum class CaptureKind { reference, quickCheck, secondLevel };

enum class CaptureState {
    idle,
    armed,     // hands-free: it begins by itself when the tone turns steady
    waiting,   // asked for; the tone is not fit yet
    capturing, // the average runs
    lift,      // a seating is kept; the calibrator has to come off before the next counts
    done,
    refused, // with its reason
    cancelled,
};

struct CaptureWish
{
    CaptureKind kind = CaptureKind::reference;
    bool handsFree = false;
    int seatings = seatingsOffered; // 1 to 9
    double take_s = 10.0;           // kept of each seating
    double patience_s = 15.0;       // for the first tone to turn fit; hands-free has all the time of the world
};

class ReferenceCapture
{
public:
    // Begins anew, whatever ran. The setup's coupler and calibrator are what it is bound to until the end.
    void start(const ReferenceSetup&, const CaptureWish&);
    void add(const Estimate&);
    void streamBegins(); // another sample rate, channel or source
    void cancel();       // keeps nothing
    void finish();       // with the seatings that are kept, at least one
    void undoSeating();  // drops the newest seating that is kept

    CaptureState state() const { return now; }
    bool runs() const;
    const CaptureWish& wish() const { return wanted; }
    const ReferenceSetup& setup() const { return bound; }
    int seatingsKept() const { return static_cast<int>(kept.size()); }
    double kept_s() const { return inHand_s; } // of the seating that is being taken
    int restarts() const { return restartCount; }
    const std::string& notice() const { return said; } // one sentence: what it waits for, why it began anew
    // What the newest three seconds say, also while idle.
    ToneSummary tone() const { return recent.summary(); }

    // After `done`, by kind.
    const std::optional<ReferenceOutcome>& outcome() const { return result; }
    const std::optional<QuickCheck>& check() const { return checked; } // after `refused` too, where a tone was heard
    const std::optional<ToneSummary>& secondLevel() const { return second; }

private:
    void wait(const Estimate&);
    void capture(const Estimate&);
    void watchLifting(const Estimate&);
    void beginAverage(const Estimate&);
    void keep(ToneSummary);
    void conclude();
    void shortTake();
    void refuse(std::string reason);
    std::string whyNotYet(const ToneSummary&) const;
    std::string whyNotByItself(const ToneSummary&) const;
    void tellWhatHappened(const ToneSummary&);

    CaptureState now = CaptureState::idle;
    CaptureWish wanted;
    ReferenceSetup bound;
    LiveTone recent;
    std::vector<ToneSummary> kept;
    std::int64_t lastHop = 0;
    double waited_s = 0.0;

    StretchFinder average;
    int disturbancesSeen = 0, hopsWithoutTone = 0, hopsAway = 0;
    std::deque<double> levels_dBFS;    // of late, oldest first: a slip is told five hops after it
    std::optional<double> before_dBFS; // the level before the newest disturbance
    bool tellSlip = false;
    double peak = 0.0; // since the average began anew
    std::int64_t clippedBefore = 0, brokenBefore = 0;
    std::optional<ToneSummary> complete; // until it is certain that nothing slipped at its end
    int hopsSinceComplete = 0;
    double inHand_s = 0.0;
    int restartCount = 0;

    std::string said;
    std::optional<ReferenceOutcome> result;
    std::optional<QuickCheck> checked;
    std::optional<ToneSummary> second;
};

} // namespace couplet
