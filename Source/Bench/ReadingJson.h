// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Reading.h"
#include "Bench/ReferenceTaking.h"
#include "Library/Json.h"

// Purpose: readings and references as the command's JSON, and as a line of `readings.jsonl`.
// Units:   as each field's name says; levels with six decimals, expanded uncertainties rounded upward at 0.01 dB (their
//          budget and coverage factor hold the rest); null: cannot be had, and `notes` says why.
// Thread:  any but audio.
namespace couplet {

JsonObject jsonOf(const ToneSummary&);
JsonObject jsonOf(const Reading&);
JsonObject jsonOf(const ReferenceOutcome&);

} // namespace couplet
