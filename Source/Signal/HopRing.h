// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopSums.h"

#include <algorithm>
#include <vector>

// Purpose: the newest hops, oldest overwritten. Every ten in a row are also kept as one record of the same kind, so
//          that a long window is joined from few.
// Thread:  audio after construction, which allocates.
namespace couplet {

// Hops joined into one record at a tuning, about their common centre.
class HopJoiner
{
public:
    HopJoiner(const LineTuning&, double samplesPerHop);

    // A record of `span` hops whose centre lies t samples after the window's; records in order, first to last.
    void add(const HopSums& record, int span, double t);
    const HopSums& window() const { return joined; }

private:
    HopSums joined;
    LineValues oneHop, betweenKinds, tenHops; // e^{-jwt} over so long
    LineValues turn;                          // at the last record
    int lastSpan = 0;
};

class HopRing
{
public:
    static constexpr int merged = 10; // hops to a merged record

    HopRing(int capacity, int samplesPerHop)
        : hopSamples(samplesPerHop), hops(static_cast<std::size_t>(capacity)),
          tens(static_cast<std::size_t>(capacity / merged + 2))
    {
    }

    int capacity() const { return static_cast<int>(hops.size()); }
    int size() const { return held; }

    void push(const HopSums&);
    void clear() { held = 0, pushed = 0; }
    void keepNewest(int count) { held = std::min(held, count); }

    // age 0 is the newest; 0 <= age < size().
    const HopSums& operator[](int age) const { return hops[place(pushed - 1 - age)]; }

    // The newest `count` hops as one, about the middle of them.
    HopSums joined(int count, const LineTuning&) const;

private:
    std::size_t place(long number) const { return static_cast<std::size_t>(number) % hops.size(); }
    std::size_t placeOfTen(long number) const { return static_cast<std::size_t>(number / merged) % tens.size(); }

    double hopSamples;
    std::vector<HopSums> hops, tens;
    long pushed = 0; // since the ring was last empty
    int held = 0;
};

} // namespace couplet
