// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/StreamFilters.h"
#include "Signal/WobbleLeft.h"

// Purpose: the noise that is left when every known line is taken out, hop by hop: unweighted 20 Hz to 20 kHz, and
//          A-weighted; and whether something else than noise was in it, such as a knock.
// Units:   mean squares relative to full scale = 1.
// Thread:  audio (no allocation, no locks).
namespace couplet {

class NoiseMeter
{
public:
    void add(const WeightedChunk&);
    // 0: there is no tone.
    void endHop(double tonePower, const WobbleLeft&);
    void reset() { *this = {}; }

    double power() const { return hopPower; }      // of the last hop, 20 Hz to 20 kHz
    double powerA() const { return hopPowerA; }    // A-weighted
    bool disturbed() const { return isDisturbed; } // the last hop holds more than noise

private:
    double sum = 0.0, sumA = 0.0, sumForKnocks = 0.0;
    int samples = 0;
    double hopPower = 0.0, hopPowerA = 0.0;
    static constexpr int hopsToLearn = 8;
    double usual = 0.0; // what a quiet hop has, followed slowly
    int learnt = 0, disturbedHops = 0;
    int pause = 0; // hops without a tone, as many as matter
    bool isDisturbed = false;
};

} // namespace couplet
