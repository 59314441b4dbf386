// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ToneSummary.h"
#include "Library/Calibrator.h"
#include "Metrology/Linearity.h"
#include "Quantities/Outcome.h"

// Purpose: the step between a calibrator's two levels, as heard and as certified.
// Units:   dB.
// Errors:  a sentence when the second tone is not the calibrator's other level.
// Thread:  any but audio.
namespace couplet {

// `first` has a level; `believed` is the certified tone that it is.
Outcome<LevelStep> levelStep(const ToneSummary& first, const ToneSummary& second, const CertifiedTone& believed,
                             const Calibrator&);

} // namespace couplet
