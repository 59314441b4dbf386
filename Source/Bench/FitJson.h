// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Json.h"
#include "Metrology/CorrectionFit.h"

// Purpose: a fit as the command's JSON.
// Units:   dB, six decimals, U too (half of `interval_db`); null: cannot be had, and `notes` says why.
// Thread:  any but audio.
namespace couplet {

JsonObject jsonOf(const FitInput&, const CorrectionFit&);

} // namespace couplet
