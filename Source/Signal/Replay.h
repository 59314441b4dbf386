// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopRing.h"
#include "Signal/HopSummer.h"
#include "Signal/SampleRing.h"

// Purpose: takes the sums of past hops again, at other frequencies, some chunks at a time; it may run on until it has
//          caught up with the present and take the live sums' place.
// Thread:  audio after construction, which allocates.
namespace couplet {

class Replay
{
public:
    static constexpr int mostHops = 16; // 0.8 s part lines that are 2 Hz apart

    explicit Replay(int chunksInHop)
        : perHop(chunksInHop), hops(mostHops, chunksInHop * chunkLength), summer(chunksInHop * chunkLength)
    {
    }

    // From a chunk that begins a hop.
    void begin(const LineTuning& tuning, long firstChunk)
    {
        hops.clear();
        summer.tune(tuning);
        summer.begin();
        next = firstChunk;
    }

    // Goes on towards chunk `end`, by `most` chunks at most; true when it is there.
    bool upTo(const SampleRing& raw, long end, int most)
    {
        for (; most > 0 && next < end; --most)
            advance(folded(raw.chunk(next)));
        return next >= end;
    }

    const HopRing& whole() const { return hops; } // the hops that are complete
    HopRing& whole() { return hops; }
    HopSummer& running() { return summer; } // of the hop that is not

private:
    void advance(const FoldedChunk& folds)
    {
        summer.add(folds);
        if (++next % perHop == 0) {
            hops.push(summer.sums());
            summer.begin();
        }
    }

    int perHop;
    long next = 0;
    HopRing hops;
    HopSummer summer;
};

} // namespace couplet
