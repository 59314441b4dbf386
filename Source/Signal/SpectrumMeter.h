// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/SpectrumAnalyser.h"
#include "Signal/ThirdOctaveBank.h"

#include <cstdint>
#include <span>

// Purpose: lines and third-octave bands of a stream together. A sample that is no sound (see Sound.h) ends what was
//          averaged: both begin anew behind it.
// Shapes:  blocks of any size.
// Ranges:  sample rate 8 to 384 kHz.
// Thread:  any but audio.
namespace couplet {

struct SpectrumResult
{
    Spectrum spectrum;
    BandPowers bands;
    std::int64_t brokenSamples = 0; // that were no sound, since the meter was made
};

class SpectrumMeter
{
public:
    explicit SpectrumMeter(double sampleRate_Hz) : analyser(sampleRate_Hz), bank(sampleRate_Hz) {}

    // True when there is something new to be told.
    bool add(std::span<const float>);
    // After a gap in the stream.
    void restart();
    SpectrumResult result() const { return {analyser.spectrum(), bank.powers(), broken}; }
    // Samples from one transform to the next.
    std::size_t step() const { return analyser.length() / SpectrumAnalyser::overlapParts; }

private:
    SpectrumAnalyser analyser;
    ThirdOctaveBank bank;
    std::int64_t broken = 0;
    bool isFresh = true; // nothing was added since the last start
};

} // namespace couplet
