// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/CorrectionFit.h"
#include "Simulation/Scenario.h"

// Purpose: what was written down on the simulated bench to find its coupler's correction: four fittings of a bare
//          microphone in the calibrator, readings through the coupler, and the scenario's earphones.
// Source:  invented with the scenario; the earphones' levels are its truth, read as if the coupler took nothing away.
// Thread:  any but audio.
namespace couplet {

FitInput fitOnPaper(const Scenario&);

} // namespace couplet
