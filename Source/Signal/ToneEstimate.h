// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Phasor.h"
#include "Signal/Sizes.h"

#include <array>
#include <cstddef>

// Purpose: what is known of the tone after a hop.
// Units:   amplitudes as peak, full scale = 1; frequencies in Hz; times in s.
// Thread:  any (a value).
namespace couplet {

// Why no tone level is given.
enum class NoTone {
    none,         // there is one
    searching,    // nothing stands out of the noise
    confirming,   // found, and not yet seen to stay
    onMains,      // what stands out is the mains itself, or cannot be parted from it
    lowBesideHum, // below 80 Hz with hum that a hop cannot part from it
    notAlone,     // what stands out is little more than half of all that is heard, or less
};

inline constexpr std::size_t noToneReasons = 6;

struct ToneEstimate
{
    NoTone reason = NoTone::searching;
    bool held() const { return reason == NoTone::none; }

    double amplitude = 0.0; // of the fundamental, over the window
    double frequency_Hz = 0.0;
    double sigmaAmplitude = 0.0; // standard deviations from the noise left by the fit
    double sigmaFrequency_Hz = 0.0;
    double window_s = 0.0;                   // as long as the tone has been the same, at most what was asked for
    double hopAmplitude = 0.0;               // of this hop alone, all other lines taken out
    std::array<double, partsOfHop> powers{}; // squares of the amplitude over equal parts of this hop
    bool modulated = false; // level or speed move within this hop; its amplitude is then that of its power
    bool unbroken = false;  // neither amplitude nor phase has jumped in this hop and the three before it
    double dc = 0.0;
    double noisePower = 0.0;                    // mean square of what the fit leaves, whole band
    std::array<double, toneOrders> harmonics{}; // amplitudes of orders 2..10 at [1]..[9]; 0 when not there
    // Of order 3 over the fundamental, turned so that its real part is what a gain which depends on the level makes of a
    // sine: below 0 where peaks are flattened. Of the window.
    Phasor third;
    bool restarted = false; // the tone changed: earlier hops no longer count

    double mainsFrequency_Hz = 0.0; // of the family believed in
    double mainsAmplitude = 0.0;    // root of the sum of its orders' squares; 0 when none stands out
    double mainsBound = 0.0;        // of an order that falls on the tone, from others; 0: none falls
};

} // namespace couplet
