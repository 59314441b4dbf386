// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Budget.h"
#include "Quantities/Units.h"

#include <optional>
#include <string>

// Purpose: the terms of a budget that are judged and not measured (type B): what a bench's own experience puts in the
//          place of this product's assumptions.
// Units:   standard uncertainties, dB unless the name says otherwise.
// Ranges:  0 or more, finite.
// Source:  JCGM 100:2008 4.3; the assumed sizes are this product's own (no source), 1 hPa as good as a barometer of the
//          house.
// Thread:  any but audio.
namespace couplet {

inline constexpr double assumedSeating_dB = 0.05;
inline constexpr double assumedDrift_dB = 0.02;
// A chain whose gain, from the calibrator's level to an earphone's, stays within +-0.05 dB (half of what a heard step may
// miss): 0.05 / sqrt(3). A compressor or an automatic gain is not in it; only a second level shows those.
inline constexpr double assumedLinearity_dB = 0.03;
inline constexpr Kilopascals assumedBarometer{0.1};
inline constexpr double assumedResponse_dB = 0.05;
inline constexpr double assumedInsertion_dB = 0.11;

// Absent: assumed.
struct JudgedTerms
{
    std::optional<double> seating_dB;   // of a calibrator, when only one seating was heard
    std::optional<double> drift_dB;     // since the reference, within its allowed age
    std::optional<double> linearity_dB; // of the input, when the calibrator's second level was not heard
    std::optional<Kilopascals> barometer;
    std::optional<double> response_dB; // of the microphone, without a table
    std::optional<double> insertion_dB;
    std::optional<double> coupler_dB; // its own response, from the reference's frequency to the tone's

    bool operator==(const JudgedTerms&) const = default;
};

// "set by you", or "assumed".
std::string howJudged(bool given);

BudgetTerm judgedTerm(std::string name, std::optional<double> given_dB, double assumed_dB);

} // namespace couplet
