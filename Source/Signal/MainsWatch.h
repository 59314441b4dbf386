// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/JointFit.h"

#include <array>

// Purpose: which mains is it, 50 or 60 Hz? Every few hops both families' first orders are fitted beside the tone, and
//          the one that leaves less is believed in, once it has won twice in a row. A look is three fits, one at a
//          time, so that no callback is long.
// Thread:  audio after construction, which allocates.
namespace couplet {

class MainsWatch
{
public:
    explicit MainsWatch(int samplesPerHop);

    double believed_Hz() const { return believed; }
    double other_Hz() const { return believed == 50.0 ? 60.0 : 50.0; }
    void believe(double mains_Hz);

    void hear(const HopSums&);
    bool isLooking() const { return looking; }
    // The next fit of a look; true when the belief has just changed. `tone`: whether the tone line stands for one.
    bool step(const LineTuning&, bool tone);
    // What was heard before no longer counts: another tone, or a broken stream.
    void forget();

private:
    bool rivalWins(double samples) const;

    JointFit fit;
    HopRing heard;
    double samplesPerHop;
    double believed = 50.0;
    int hopsUntilLook = 0;
    int wins = 0;
    bool looking = false;
    std::size_t next = 0;         // which fit of the look
    std::array<double, 3> left{}; // noise variance without mains, with the believed family, with the other
};

} // namespace couplet
