// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/CorrectionFit.h"

#include <string>

// Purpose: what a fit's evidence cannot show, and what to do when it contradicts itself, in words.
// Units:   dB.
// Source:  method of this product (docs/method.md).
// Thread:  any but audio.
namespace couplet {

// Which errors would not show in this evidence, from what size on they would, and what would show them: all fittings
// alike, the calibrator beyond its certificate, all ratings alike. It belongs beside every result.
std::string hiddenErrorText(const CorrectionFit&);

// The error that all fittings share, or the calibrator's, from which on fittings and earphones would contradict each
// other: up at 0.1 dB; absent without one of them.
std::optional<double> showsFrom_dB(const CorrectionFit&);

// More than half of the interval is assumed: what the fittings share, against what their readings say.
bool isMostlyAssumed(const CorrectionFit&);

// What to look at when the evidence contradicts itself.
std::string remedySentence(const CorrectionFit&);

} // namespace couplet
