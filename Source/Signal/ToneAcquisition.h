// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/JointFit.h"
#include "Signal/LineRemover.h"
#include "Signal/Replay.h"
#include "Signal/ToneSearch.h"

// Purpose: finds a tone in the newest two hops without being told its frequency, and which mains family stands beside
//          it. The work is cut into pieces of some 10 us, one to be done with each chunk that comes, so that no
//          callback is long and the result does not depend on the host's blocks.
// Thread:  audio after construction, which allocates.
namespace couplet {

class ToneAcquisition
{
public:
    explicit ToneAcquisition(double sampleRate_Hz);

    // Looks into the two hops before chunk `end`; the tone may have begun in the second of them. Of `available` hops
    // four are looked at when two cannot part the tone from the mains.
    void begin(const LineTuning& believed, long end, long available);
    // Looks at what a fit that took the mains for the tone leaves: for a line of this amplitude at least.
    void beginBeside(const Fit& mains, double leastAmplitude, long end, long available);
    void stop() { stage = Stage::idle; }
    bool isRunning() const { return stage != Stage::idle; }

    enum class Progress { working, nothing, found };
    Progress step(const SampleRing&);

    // When found:
    const Fit& fit() const { return found; }                // its tuning's mains is the family that leaves less
    const HopRing& heard() const { return replay.whole(); } // which the fit is over: the newest one or two
    long end() const { return endChunk; }

    // What stood out twice in a row was little more than half of all that was heard: another sound is as strong.
    bool foundCrowd() const { return crowds >= 2; }
    void forgetCrowd() { crowds = 0; }

private:
    enum class Stage { idle, loading, searching, mainsSums, loadingRest, searchingRest, sums, otherSums, longSums };

    Progress afterSearch();
    Progress afterRest();
    Progress startFrom(double frequency_Hz);
    Progress refine();
    Progress compareFamilies();
    Progress finish();
    Progress tryLonger();
    bool nearMains() const;
    void retake(const LineTuning&, int hops = 2);
    FitRequest request(int hops, const LineTuning&) const;
    void findRest();

    double hz; // rad/sample
    int chunksInHop;
    ToneSearch search;
    Replay replay;
    JointFit joint;

    Stage stage = Stage::idle;
    long endChunk = 0, hopsThere = 0;
    LineTuning start, tuning;
    ToneSearch::Line plain; // the strongest line of all
    LineRemover remover;    // of the mains
    int loaded = 0;         // chunks
    int round = 0;
    double guess_Hz = 0.0, least = 0.0; // amplitude
    bool triedRest = false, comparedFamilies = false;
    long crowds = 0; // in a row
    Fit found;
};

} // namespace couplet
