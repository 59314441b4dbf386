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

// What a third harmonic of this share of the fundamental, in phase or in opposite phase with what a gain that depends on
// the level makes of a sine, may have done to the level, dB (>= 0): all of it may be the input's.
// Source: y = x + a x^3 with x = A cos t is (A + 3/4 a A^3) cos t + 1/4 a A^3 cos 3t, by cos^3 t = (3 cos t + cos 3t) / 4
//         (NIST Digital Library of Mathematical Functions, 4.21.28, from memory). The third harmonic h of the fundamental g A
//         is then (g - 1) / (3 g): g = 1 / (1 - 3 h). A dead zone takes 3 h away as well: its square wave has 1/3 of its
//         fundamental at the third order. Peaks that are cut lose less.
double shiftBehindThird_dB(double third);

// The larger of that, as a rectangle, and what is assumed anyway (u 0.03 dB).
BudgetTerm linearityUnchecked(double third);

} // namespace couplet
