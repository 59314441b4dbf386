// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/JointFit.h"
#include "Signal/LinePhasors.h"
#include "Signal/LineRemover.h"
#include "Signal/MainsFrequency.h"
#include "Signal/MainsWatch.h"
#include "Signal/Replay.h"
#include "Signal/ToneAcquisition.h"
#include "Signal/ToneEstimate.h"
#include "Signal/ToneParts.h"
#include "Signal/WobbleLeft.h"

// Purpose: finds a tone in a stream, follows it, and gives its level and frequency over a window that is as long as
//          the tone has been the same. Cost does not grow with the window.
// Shapes:  chunks of 32 samples in, one estimate a hop (50 ms) out: with the hop's last chunk, or a few chunks later
//          while it is looked into whether the tone has changed. The same samples give the same bits however the stream
//          is cut. No chunk has more than some 20 us of work.
// Ranges:  sample rate 8 to 384 kHz; tones 15 Hz to 20.5 kHz; window 0.1 to 10 s.
// Thread:  audio after construction, which allocates.
namespace couplet {

class ToneTracker
{
public:
    ToneTracker(double sampleRate_Hz, double window_s);

    // The next 32 samples, all finite. True when `estimate` is new.
    bool add(const float* chunk, const FoldedChunk& folds) { return add(chunk, folds, folds.total(), folds.power()); }
    bool add(const float* chunk, const FoldedChunk&, double total, double power); // these of the chunk
    const ToneEstimate& estimate() const { return result; }
    // The last chunk ended a hop.
    bool hopEnded() const { return chunks == 0; }
    // The estimate of the hop that ended last is still being worked on.
    bool isPending() const { return stage != Stage::reported; }
    // Works it out at once: there is nothing more to come.
    void finish();
    // Says what is known of it and looks into nothing more.
    void abandon();

    // This chunk less every line that stands out of it, for the noise that remains. Call before `add`, once a chunk.
    void subtractLines(FoldedChunk& chunk);
    // What a tone that wobbles has left in the hop that has just ended.
    WobbleLeft wobbleLeft() const;
    // A second channel's sum at the tone, about the hop's centre. Call before `add`.
    Phasor toneSum(const FoldedChunk& other) const { return summer.toneSum(other); }
    // The amplitude behind such a sum over the hop that has just ended, its image at the negative frequency taken out.
    Phasor toneOf(Phasor sum) const;
    // Samples of a hop.
    int hopSamples() const { return hopLengthSamples; }
    // Forget the tone: the stream was broken. The mains is likely still the same.
    void breakOff();
    // Forget everything heard.
    void restart();

private:
    using MainsAmplitudes = std::array<double, mainsOrders + 2>; // [1] to [10]; 0 where none stands out

    enum class State { searching, confirming, following };
    // What is still to be done for the hop that ended last.
    enum class Stage { window, alone, retaking, report, reported };

    void endHop();
    void beginHop();
    bool work();
    void workInBackground();
    void judgeHop();
    void judgeParts();
    bool goesOnEvenly() const;
    bool wobblesInParts() const;
    void takeOut(const LineSet&);
    void fitWindowNow();
    static constexpr int hopsOfCalm = 4; // what began anew so many hops after the last jump is no jump itself
    static constexpr double partedBy = 1.5 * 2.0 * pi; // rad: lines that turn less apart over a stretch are one to it

    double notParted() const;
    bool isBesideHum() const;
    void retakeWindow(const LineTuning&);
    void watchForChange();
    void watched(); // another hop, and nothing has changed in it
    int hopsToWatch() const;
    MainsAmplitudes mainsAmplitudes() const;
    bool isNearTone(int order) const;
    bool mayBeWobble(int line) const;
    void noteHumAway();
    void noteQuietMains(bool begins);
    double mainsOrderBeside(int order) const; // the most that it may be, as far as is known
    void fitNewestAlone();
    void judgeAlone();
    void lookAtQuiet();
    void lookBesideMains();
    void changeFamily();
    void acquired();
    void goOnFrom(const HopRing&, const Fit&);
    void resume(long firstChunk);
    void caughtUp();
    void accept(const Fit&);
    void foretell(double hopsAhead);
    void lose();
    void publish();
    void judgeMains();
    double twiceMainsBound() const;
    double leakBound(const MainsAmplitudes&) const;
    bool keepsLosingLow() const;
    bool standsOutOfNoise(int line) const;
    bool onMainsItself() const; // the tone is 50 or 60 Hz, as closely as can be told
    FitRequest requestFor(int hops, const LineTuning&) const;
    Phasor foretoldSum(int line, const LineAngles&) const;
    Phasor amplitudeOf(Phasor sum, double omega) const;
    void observeMains(const LineAngles&);
    void believeMains(double mains_Hz);
    int hopsAlone(double tone) const; // a low tone needs two hops where one does for others
    long newestHops(int count) const { return hopEnd - static_cast<long>(count) * chunksInHop; }

    double sampleRate;
    int hopLengthSamples, chunksInHop, windowHops;

    HopSummer summer;
    LineRemover remover;
    ToneParts parts;
    SampleRing raw;
    Replay replay;
    HopRing ring;  // hops of the tone that is followed
    HopRing trial; // of one that may be
    JointFit fitWindow;
    ToneAcquisition acquisition;
    MainsWatch mains;
    MainsFrequency mainsFrequency;

    State state = State::searching;
    Stage stage = Stage::reported;
    int chunks = 0;
    long hopsHeard = 0;
    long hopEnd = 0;               // the chunk after the hop that ended last
    bool catchingUp = false;       // the live sums are of no use; `replay` is on its way to take their place
    bool changed = false;          // since the last report: earlier hops no longer count
    int missed = 0;                // hops in a row that were not as foretold
    int watching = 0;              // hops for which the newest is still held against the window
    ToneParts::Hop heard;          // the hop that ended last
    double leastAway = 0.0;        // hum that stands away from a tone that wobbles, the least of late
    double heardBefore = 0.0;      // power of the hop before it
    int evenHops = 0;              // in a row that are known to hold no jump
    int hopsSinceJump = 0;         // or since the tone was found, in which none was heard
    int following = 0;             // hops for which the tone that is taken out follows each part
    bool slid = false;             // the newest hop is not as foretold, and is the same tone all the same
    int retakes = 0;               // of the newest hop, at its own frequency
    int retakenWindows = 0;        // in a row
    std::array<long, 3> lostLow{}; // hops at which a low tone was last lost, newest first
    double quietNoise = 0.0;       // noise variance when last found stationary
    MainsAmplitudes quietMains{};  // likewise, or when the tone was found
    std::array<bool, mainsOrders + 2> quietKnown{}; // those that were solved
    double summedTone = 0.0;                        // what the hop that ended last was summed at
    HopSums newest;                                 // that hop
    Fit fit;                                        // over the window
    Fit alone;                                      // over the newest hop
    LineTuning aloneTuning;                         // what the newest hop was summed at for it
    LineSet foretold; // all lines at the centre of the hop that is being summed, as the window says
    Phasor hopTone;   // of the newest whole hop
    ToneEstimate result;
};

} // namespace couplet
