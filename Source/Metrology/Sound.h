// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/Rating.h"
#include "Quantities/Budget.h"

#include <optional>
#include <string>

// Purpose: the two sums of a reading: the level at the coupler's microphone, and what the earphone's rating
//          promises for the voltage it gets.
// Units:   dB SPL, V RMS, ohm.
// Thread:  any but audio.
namespace couplet {

// The measured side: L = x + O - (R(f) - R(f_cal)).
struct MeasuredInput
{
    double tone_dBFS = 0.0;
    Hertz frequency;
    Figure offset;                            // with its budget, or with what is missing
    std::optional<double> response_dB;        // -(R(f) - R(f_cal)), the addend as it is added; absent: no table
    double responseU_dB = 0.05;               // standard uncertainty
    double insertionU_dB = 0.11;              // standard uncertainty of one insertion, assumed
    bool insertion = true;                    // false when no earphone is inserted (a calibrator, a bare level)
    double steadinessU_dB = 0.0;              // standard uncertainty of the tone's own level while read
    std::string responseObtained = "assumed"; // without a table
    double humBoundU_dB = 0.0;                // from a mains order that falls on the tone; 0: none does
    // How insertionU_dB came about ("5 insertions"), and with how many degrees of freedom (n - 1 after n of
    // them).
    std::string insertionObtained = "assumed";
    double insertionDegrees = infiniteDegrees;
};
Figure measuredLevel(const MeasuredInput&);

// The electrical side of an earphone under test.
struct Drive
{
    Volts voltage;                        // > 0
    std::optional<Ohms> source;           // given: `voltage` is the open-circuit voltage behind it
    std::optional<Percent> meterAccuracy; // of reading, half-width of a rectangular distribution
    bool sensed = false;                  // measured on a channel, not typed
    bool acrossByDefault = false;         // nobody said what the voltage is: a setting's default counts
};

// E = S_V + 20 lg V + 20 lg |Z / (Z + R_s)|. A fault when the tone is more than 1/24 octave from the rating's
// frequency or the rating cannot be turned into S_V. What is not stated (frequency, tolerance, meter
// accuracy, impedance under a source) is named in Figure::missing. Impedance is not exact: its tolerance is a term.
Outcome<Figure> expectedLevel(const Rating&, const Drive&, Hertz toneFrequency);

// What not knowing |Z| better than within its tolerance makes of E: the root mean square of how far E moves while Z runs
// evenly over rated value and tolerance, dB (>= 0). E follows Z steadily and nearly in proportion to ln Z, so it counts as
// a rectangle of that u. What the rating's S_V and the load behind our source owe to Z is counted together, for it is
// one Z: behind a rated source like ours nothing is left. A rating for 1 mW that states no source may mean a voltage at
// the connector or a true milliwatt: the larger of both counts. 0 where the impedance is not stated.
double impedanceU_dB(const Rating&, const std::optional<Ohms>& driveSource);

// Span of the load term when the phase of Z lies between 0 and 60 degrees, dB (>= 0).
double loadPhaseSpan_dB(Ohms impedance, Ohms source);

} // namespace couplet
