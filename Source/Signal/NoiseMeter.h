// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopSummer.h"
#include "Signal/Weighting.h"

#include <array>

// Purpose: the noise that is left when every known line is taken out, hop by hop: unweighted 20 Hz to 20 kHz, and
//          A-weighted; and whether something else than noise was in it, such as a knock.
// Source:  band edges: Butterworth of second order at 20 Hz and, from 60 kHz sampling on, at 20 kHz; below that the
//          converter's own filter is the upper edge. Weighting: IEC 61672-1:2013.
// Units:   mean squares relative to full scale = 1.
// Thread:  audio after construction.
namespace couplet {

class NoiseMeter
{
public:
    explicit NoiseMeter(double sampleRate_Hz);

    // The next chunk, lines already taken out.
    void add(const FoldedChunk& left);
    void endHop(double tonePower);
    void reset();

    double power() const { return hopPower; }      // of the last hop, 20 Hz to 20 kHz
    double powerA() const { return hopPowerA; }    // A-weighted
    bool disturbed() const { return isDisturbed; } // the last hop holds more than noise

private:
    Biquad highPass, lowPass, low, high, middle;
    bool hasLowPass;
    double sum = 0.0, sumA = 0.0, largest = 0.0;
    int samples = 0;
    double hopPower = 0.0, hopPowerA = 0.0;
    double usual = 0.0; // what a quiet hop has, followed slowly
    int hops = 0, disturbedHops = 0;
    bool isDisturbed = false;
};

} // namespace couplet
