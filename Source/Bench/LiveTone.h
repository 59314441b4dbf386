// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ToneSummary.h"
#include "Signal/Estimate.h"

#include <cstddef>
#include <deque>

// Purpose: the tone as it is now: level and frequency over the newest window, steadiness and the rest over the last
//          three seconds at most (or so many estimates as are asked for), and no further back than the tone has been the
//          same.
// Shapes:  one Estimate every 50 ms, in order.
// Thread:  message (allocates).
namespace couplet {

class LiveTone
{
public:
    explicit LiveTone(std::size_t most = 60) : hopsKept(most) {}

    void add(const Estimate&);
    ToneSummary summary() const;
    void restart() { recent.clear(); }

private:
    std::size_t hopsKept;
    std::deque<Estimate> recent; // oldest first
    OnsetWatch beginning;        // it may be longer ago
};

} // namespace couplet
