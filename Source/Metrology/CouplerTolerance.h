// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Budget.h"
#include "Quantities/Units.h"

#include <optional>
#include <string_view>

// Purpose: how far a coupler's own response may lie from its standard, where that stands between a measured level and a
//          rating. A measured level is the pressure at this coupler's microphone, and the coupler is no term of it. A
//          rating was found on another coupler: the difference holds how the two differ at the tone. At the
//          reference's frequency earphones may have taken that into the correction; on the way to the tone's frequency
//          the response may deviate by the standard's tolerances at both, each re 500 Hz: two rectangles. What the
//          maker's own coupler does belongs to his tolerance. The effective volume at 500 Hz has no limit in the table
//          and is no term. Method of this product, no source.
// Source:  IEC 60711:1981 Table 2 through an identical national edition (second-hand), now IEC 60318-4.
// Units:   dB, Hz.
// Thread:  any but audio.
namespace couplet {

enum class CouplerKind {
    earSimulator,   // IEC 60318-4 (60711)
    notStated,      // counts as an ear simulator, which its terms say
    bareMicrophone, // has no response of its own
    other           // its tolerances by frequency are not known here
};

// From a profile's words: "ear simulator IEC 60318-4", "bare microphone", "acoustic coupler IEC 60318-5", ...
CouplerKind couplerKindFrom(std::string_view words);

// The tolerance of the level re 500 Hz, a half-width, interpolated linearly over lg f; 0 at 500 Hz. Absent outside 100 Hz
// to 10 kHz, where the table ends.
std::optional<double> earSimulatorTolerance_dB(Hertz);

// What stands between a tone's level and a rating at the same frequency: terms, or what is missing of them. Nothing for a
// bare microphone, and within 1/24 octave of the reference's frequency.
struct CouplerStep
{
    CouplerKind kind = CouplerKind::notStated;
    std::optional<Hertz> reference; // absent: 1 kHz, which the term calls assumed
    Hertz tone;
    std::optional<double> set_dB; // standard uncertainty in place of the standard's tolerances
};
Figure couplerBetween(const CouplerStep&);

} // namespace couplet
