// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

// Purpose: what is known of a coupler's correction, summed up: each fitting's and each earphone's say, and what they
//          have in common. What the numbers were called and where they stood is CorrectionFit's.
// Units:   dB; standard uncertainties u.
// Thread:  any but audio.
namespace couplet {

// What a fitting says: mean of its direct readings less mean of the readings through the coupler.
struct FittingEvidence
{
    double says_dB = 0.0;
    std::size_t count = 1;   // readings, >= 1
    double scatter_dB = 0.0; // s, with count - 1; not looked at for one reading
};

// What an earphone says: its reading as if nothing were taken away, less its expected level.
struct EarphoneEvidence
{
    double says_dB = 0.0;
    double tolerance_dB = 0.0; // half-width of a rectangle; 0: none
    double u_dB = 0.0;         // of the rest, without what all earphones share, >= 0; not both 0
};

struct FitEvidence
{
    std::vector<FittingEvidence> fittings;
    std::vector<EarphoneEvidence> earphones;
    std::vector<EarphoneEvidence> aside; // take no part: only how they agree is asked
    double u_through_dB = 0.0;           // of the mean of the readings through the coupler
    double u_fittings_dB = 0.0;          // shared by all fittings: transfer, adapter, calibrator
    double u_earphones_dB = 0.0;         // shared by all earphones: the reference they were read with, the voltmeter
};

} // namespace couplet
