// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/BroadbandMeter.h"
#include "Signal/Phasor.h"
#include "Signal/ToneEstimate.h"

#include <array>
#include <cstdint>

// Purpose: everything the real-time half tells the rest of the world: one of these every 50 ms, of fixed size, the
//          quantities that add up counted since the stream began so that a lost one loses nothing.
// Units:   amplitudes and mean squares relative to full scale = 1; Hz; s.
// Thread:  any (a value).
namespace couplet {

struct Estimate
{
    std::int64_t hop = 0; // counted from 1 since the stream began
    double sampleRate_Hz = 0.0;
    double hop_s = 0.0; // length of a hop

    ToneEstimate tone;
    Phasor secondTone;        // of the second channel at the tone, this hop; peak amplitude, about its centre
    double secondPower = 0.0; // of the second channel, this hop, its mean taken out: mean square
    double secondPeak = 0.0;  // its largest |sample| in this hop
    double noisePower = 0.0;  // of this hop, 20 Hz to 20 kHz, all lines taken out
    double noisePowerA = 0.0; // A-weighted
    bool disturbed = false;   // this hop holds a knock or another noise that is not usual

    double peak = 0.0;                    // largest |sample| since the stream began
    double hopPeak = 0.0;                 // of this hop
    std::int64_t clippedSamples = 0;      // samples in runs of three or more at full scale, since the stream began
    std::int64_t brokenSamples = 0;       // samples that were no sound (see Analyser), taken as 0
    bool broken = false;                  // this hop held some
    std::int64_t brokenSecondSamples = 0; // likewise of the second channel
    bool secondBroken = false;            // its share of this hop tells nothing
    std::int64_t dropOuts = 0;            // within a tone, ended since the stream began (see DropOutWatch)
    std::int64_t dropOutSamples = 0;      // in all of them
    std::int64_t cutPeaks = 0;            // that stand at one value below full scale, likewise

    std::array<BroadbandLevels, weightings> levels{};
    double duration_s = 0.0; // that the levels count: since the stream began or they were reset
};

} // namespace couplet
