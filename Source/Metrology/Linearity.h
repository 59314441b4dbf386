// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/Fitness.h"
#include "Quantities/Budget.h"

// Purpose: a calibrator's second level as a check of the input's linearity: the step between its two levels as heard,
//          against the certified one, and what is left uncertain for readings at other levels than the calibrator's.
// Units:   dB.
// Thread:  any but audio.
namespace couplet {

struct LevelStep
{
    double to_dB = 0.0;        // the second level, as certified
    double measured_dB = 0.0;  // from the lower to the higher one, > 0
    double certified_dB = 0.0; // likewise
    double u_dB = 0.0;         // standard uncertainty of the measured step: the scatter of both tones
};

// "step to 94 dB, 19.99": within 0.10 dB (common practice, no source). A miss warns; a gross one makes the tone unfit.
Check stepCheck(const LevelStep&);

// A step that misses by more than 5 % of itself, 1 dB of 20: the gain depends on the level, and no offset holds for both
// (method of this product, no source).
bool isGrossMiss(const LevelStep&);

// Rectangular, with the deviation and twice the step's own u together as half-width: a deviation that is none by luck
// does not stand for a certainty.
BudgetTerm linearityTerm(const LevelStep&);

} // namespace couplet
