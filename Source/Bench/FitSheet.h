// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Fields.h"
#include "Metrology/CorrectionFit.h"

#include <cstddef>
#include <optional>
#include <string>

// Purpose: the readings of a fit as they are written down while they are made, and as a session keeps them.
// Units:   dB; names of JSON's fields end in their unit.
// Ranges:  levels within -200 to 300 dB; names of 1 to 120 characters, each once; at most 2 MB as text.
// Errors:  as Fields has them.
// Thread:  any but audio.
namespace couplet {

struct FitSheet
{
    FitInput input;
    // What captured readings of fittings and through the coupler count from: dB at 0 dBFS. Fixed by the first of them,
    // for only with one and the same do their differences count.
    std::optional<double> zero_dB;
    std::optional<double> certified_dB; // level of the calibrator chosen
    bool noCalibrator = false;          // chosen: none, and none is taken up unasked
    std::string coupler;                // that was chosen when the first reading went in; empty: not known

    bool operator==(const FitSheet&) const = default;
    bool isNew() const { return *this == FitSheet{}; }
};

inline constexpr double lowestFitLevel_dB = -200.0, highestFitLevel_dB = 300.0;
inline constexpr std::size_t longestFitName = 120, largestSheet_bytes = 2u << 20;

// Anything read or typed: what only waits to be read is nothing yet.
bool holdsReadings(const FitInput&);

// What a session takes for it as text, or a few bytes more. It prints the sheet.
std::size_t bytesOf(const FitSheet&);

JsonObject jsonOf(const FitSheet&);
FitSheet fitSheetFrom(Fields&);

} // namespace couplet
