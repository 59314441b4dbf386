// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Stream.h"

// Purpose: how closely level and frequency can be known at all: the Cramer-Rao bound from the Fisher information of
//          the whole model, summed sample by sample. It owes nothing to the estimator.
// Source:  Kay, Fundamentals of Statistical Signal Processing I, 1993, chapter 3 (from memory): for samples with white
//          Gaussian noise of variance s^2 the information is J'J / s^2, J the derivatives of the model.
namespace couplet::test {

struct Bound
{
    double level_dB = 0.0; // standard deviations
    double frequency_Hz = 0.0;
};

// The model: constant; tone of unknown frequency with its orders up to 10; mains orders 1 to 10 of known frequency, or
// of unknown when there is hum. Orders nearer than 1.5/T to a tone order or to zero are not in it. The root of the
// variance's mean over the tone's phase.
Bound jointBound(const Truth&, int samples);

} // namespace couplet::test
