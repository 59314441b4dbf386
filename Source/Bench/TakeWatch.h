// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Estimate.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

// Purpose: what keeps a tone's level from being believed although one was found: another level or another sound for much of
//          the take, samples that were lost or cut off. Each is named with its size and its mend.
// Shapes:  one Estimate every 50 ms, in order; pieces of one level are kept as one, and past 4096 of them neighbours are
//          joined, so that memory does not grow with the take.
// Units:   dB, percent, s.
// Source:  method of this product, no source: a tenth of the time or two seconds, a third of the take for a level more than 6 dB
//          lower, a half of the span, a fifth of the sound.
// Thread:  any but audio (allocates).
namespace couplet {

struct Flaw
{
    enum class Kind { otherSound, otherLevel, otherTone, smallPart, dropOuts, cutPeaks };
    Kind kind = Kind::otherSound;
    std::string name; // of the check that fails: "one level, within U"
    double size = 0.0, limit = 0.0;
    std::string unit;
    std::string sentence;
    bool againstU = false; // counts only when its size is beyond the U of what is said

    // Whether it keeps a level of this U from being judged; without one 0.2 dB counts.
    bool withholds(std::optional<double> U_dB) const;
};

// The stretch that a level was drawn from.
struct UsedStretch
{
    double level_dBFS = 0.0, frequency_Hz = 0.0;
    double start_s = 0.0, length_s = 0.0;
    double drift_dB = 0.0, driftU_dB = 0.0; // over its length, with its standard uncertainty
    double straying_dB = 0.0;               // largest deviation from its mean
    double others_percent = 0.0;            // all that is not the tone
    bool live = false;                      // what came before it is over
};

class TakeWatch
{
public:
    void add(const Estimate&);

    std::vector<Flaw> flaws(const UsedStretch&) const;
    // A tone that moves evenly upward or downward, by a fiftieth at least; empty when it does not.
    std::string movingTone() const;

private:
    static constexpr double leastMove = 0.02; // of its frequency

    struct Piece // hops of one kind and one level, one after the other
    {
        double level_dB = 0.0, frequency_Hz = 0.0; // of a sound without a tone: its peak's, 0
        int hops = 0;
        std::int64_t lost = 0, lostTimes = 0, cuts = 0;
        bool clean = false; // a tone, undisturbed
    };
    struct Part // of the take, as counted against a stretch
    {
        int tone = 0, sound = 0, atLevel = 0; // hops
        double away_dB = 0.0, awayShare = 0.0;
        double another_Hz = 0.0;
        int another = 0; // hops of another tone
    };
    struct Recurring // a higher level that the tone comes back to, however shortly each time
    {
        double up_dB = 0.0, share = 0.0; // above the one that was used; of the tone's time
        int times = 0, hops = 0;
    };
    // Which deviations from the level that was used count, and for how much of the tone's time one must last.
    struct Counted
    {
        double share = 0.0;
        bool stays = false;      // those alone that last half a second at one level
        double lowest_dB = -1e9; // those alone that lie no further below
        double enough = 1e9;     // hops that suffice, whatever their share
    };
    static bool joins(const Piece&, const Piece&);
    static void join(Piece& to, const Piece&);
    static bool isThis(const Piece&, const UsedStretch&);
    std::vector<bool> stays(const UsedStretch&) const;
    Part partOf(const UsedStretch&, std::size_t from, std::size_t end, const Counted&) const;
    Recurring recurring(const UsedStretch&) const;
    std::pair<std::size_t, std::size_t> spanOf(const UsedStretch&) const;
    void addLost(std::vector<Flaw>&, const UsedStretch&) const;
    void addLevels(std::vector<Flaw>&, const UsedStretch&) const;

    std::vector<Piece> pieces;
    double hop_s = 0.05, sampleRate_Hz = 0.0, begin_s = 0.0;
    bool begun = false;
    std::int64_t dropOuts = 0, dropOutSamples = 0, cutPeaks = 0; // told until now
    std::vector<double> heard_Hz;                                // the tone's, hop by hop, the first and newest of them
};

} // namespace couplet
