// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Units.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: the spectrum as it is shown: lines, third-octave bands and the tone's own orders, each as a level.
// Units:   dB SPL, or dBFS while the coupler has no reference (AES17: a full-scale sine reads 0 dBFS); Hz; s.
// Thread:  any but audio (a value).
namespace couplet {

// The highest line within one of the slices that the plot is divided into; its level is that of a sine there.
struct SpectrumPoint
{
    double frequency_Hz = 0.0;      // of that line
    std::optional<double> level_dB; // absent: nothing can be said there, e.g. beyond the microphone's response table
    bool operator==(const SpectrumPoint&) const = default;
};

struct BandReading
{
    double nominal_Hz = 0.0;        // ISO 266
    double midband_Hz = 0.0;        // exact, IEC 61260-1
    std::optional<double> level_dB; // time average; absent: not settled yet, or no such band at this rate
    bool operator==(const BandReading&) const = default;
};

struct OrderReading
{
    int order = 2; // 2 to 10, those below Nyquist
    double frequency_Hz = 0.0;
    std::optional<double> belowTone_dB; // how far below the fundamental; absent: nothing stands out of the noise
    std::optional<double> percent;      // of the fundamental
    bool operator==(const OrderReading&) const = default;
};

struct SpectrumReading
{
    bool referenced = false;          // levels are dB SPL; else dBFS
    bool responseTakenOut = false;    // the microphone's response table was applied
    std::string window;               // "flat-top HFT95"
    double length_s = 0.0;            // of one transform
    double noiseBandwidth_Hz = 0.0;   // effective, of a line
    int averages = 0;                 // transforms averaged
    std::vector<SpectrumPoint> lines; // ascending, 20 Hz to 20 kHz, at most 480
    std::vector<BandReading> bands;   // 20 Hz to 20 kHz
    double bandsAveraged_s = 0.0;
    std::vector<OrderReading> orders; // empty without a tone
    std::string whyNot;               // one sentence when there is nothing to show

    bool operator==(const SpectrumReading&) const = default;
};

} // namespace couplet
