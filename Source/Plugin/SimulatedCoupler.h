// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Coupler.h"
#include "Simulation/Scenario.h"

// Purpose: the simulated bench's coupler with a reference taken on it, as a person would take it: the simulated
//          calibrator, heard and judged by the same chain as a real one. The truth is not looked at.
// Ranges:  sample rate 8 to 384 kHz. It takes some tens of milliseconds at 48 kHz.
// Errors:  a coupler without a reference where the tone is not fit (which a test rules out at the usual rates).
// Thread:  any but audio.
namespace couplet {

Coupler referencedOnPaper(const Scenario&, double sampleRate_Hz);

} // namespace couplet
