// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Calibrator.h"
#include "Library/Coupler.h"
#include "Library/Earphone.h"
#include "Metrology/Sound.h"
#include "Simulation/Scenario.h"

// Purpose: what the simulated bench has on paper, as the library keeps it: coupler with its stored correction, calibrator
//          with its certificate, earphones with their ratings. Each is marked as simulated.
// Thread:  any but audio.
namespace couplet {

Coupler couplerOnPaper(const Scenario&);
Calibrator calibratorOnPaper(const Scenario&);
Earphone earphoneOnPaper(const Scenario&, std::size_t index);
// The drive of an earphone's own reading, as a voltmeter of the scenario's accuracy reads it.
Drive driveOnPaper(const Scenario&, std::size_t index);

} // namespace couplet
