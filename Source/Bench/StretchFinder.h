// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ToneSummary.h"
#include "Signal/Estimate.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <deque>
#include <optional>

// Purpose: from the estimates of a whole take to the figures of its longest undisturbed stretch. A knock, a slipped
//          seat or another tone ends a stretch; an even drift and a wobble within a class's limits do not, and show as
//          slope and unsteadiness. The level is that of the stretch's mean power.
// Shapes:  one Estimate every 50 ms, in order; memory does not grow with the take.
// Thread:  any but audio (allocates).
namespace couplet {

class StretchFinder
{
public:
    void add(const Estimate&);
    // After the last estimate.
    ToneSummary summary() const;
    // Likewise, of the stretch that lasts until now, however short.
    ToneSummary newest() const;

private:
    struct Hop // what is kept of an estimate until its neighbours have been seen
    {
        double time_s = 0.0;
        std::array<double, partsOfHop> fast{}; // the tone's power under F, at the end of each part
        double amplitude = 0.0, frequency_Hz = 0.0, frequencyWeight = 0.0;
        double dc = 0.0, noise = 0.0, noiseA = 0.0, harmonics = 0.0, hum = 0.0, humHz = 0.0, humBound = 0.0;
        double second = 0.0, secondPower = 0.0, secondPeak = 0.0;
        double peak = 0.0, third = 0.0;
        std::int64_t clipped = 0;
        bool held = false, good = false, secondGood = false, restarted = false, modulated = false;
    };
    struct Run // sums over a stretch
    {
        int hops = 0, levels = 0, quietHops = 0; // quiet: noise is counted once its filters have settled
        int secondHops = 0, restarts = 0, modulated = 0;
        bool begins = false; // the tone had just been found
        double start_s = 0.0;
        double power = 0.0, frequency = 0.0, frequencyWeight = 0.0, meanFrequency = 0.0;
        double dc = 0.0, noise = 0.0, noiseA = 0.0, harmonics = 0.0, hum = 0.0, humHz = 0.0, humBound = 0.0;
        double peak = 0.0, third = 0.0;
        std::int64_t clipped = 0;
        double second = 0.0, secondPower = 0.0, secondPeak = 0.0, secondLowest = 0.0, secondHighest = 0.0;
        // of the levels under F, dB, less the first of them so that squares keep their digits
        double origin = 0.0, sum = 0.0, squares = 0.0, lowest = 0.0, highest = 0.0;
        // of each hop's level against time, for the slope
        double t = 0.0, tt = 0.0, y = 0.0, ty = 0.0, yy = 0.0;
    };

    ToneSummary summaryOf(const Run&, const StretchFinder& finished, int fewestHops) const;
    StretchFinder finished() const; // with the hops that still waited
    static Hop hopOf(const Estimate&, double time_s);
    void tellPeaks(ToneSummary&, const Run&, bool live) const;
    void settle(const Hop&);
    void endRun();
    void follow(Hop&, const ToneEstimate&);
    static void addLevels(Run&, const Hop&);
    static double scatter_dB(const Hop&);
    void judgeNewest();
    bool stepped() const;
    bool moved() const;

    static constexpr int hopsToSettle = 12;    // of the 20 Hz high-pass after a tone has just been found: 0.6 s
    static constexpr std::size_t slipHops = 5; // on either side of a slip, and one between them
    static constexpr std::size_t hopsWaiting = 2 * slipHops + 1;

    std::deque<Hop> waiting;
    double fast = 0.0; // the tone's power under F now; 0: it has not begun
    BreakWatch watch;
    TakeWatch take;
    OnsetWatch beginning;
    Run run, longest;
    int guard = 0; // hops still to be passed over after a disturbance
    int disturbances = 0;
    bool hadRun = false;
    bool justFound = true; // no run since there was no tone
    double hop_s = 0.05;
    Estimate last;
    // over the whole take, for one without a tone
    std::int64_t hops = 0;
    double dc = 0.0, noise = 0.0, noiseA = 0.0, hum = 0.0;
    std::optional<double> firstClipped_s; // the hop that began there
    double lastClipped_s = 0.0;
    std::array<std::int64_t, noToneReasons> reasons{};
    std::array<ToneEstimate, noToneReasons> examples{};
};

} // namespace couplet
