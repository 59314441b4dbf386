// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceTaking.h"

// Purpose: a reference against those before it: how far the chain moved, whether that is beyond the usual limits, and
//          what another correction does apart from that.
// Rules:   beyond the usual limits is beyond the history's allowed change and beyond what two seatings may differ by,
//          2 sqrt(2) u of one seating: references in a row without lifting scatter by next to nothing.
// Source:  method of this product.
// Units:   dB.
// Thread:  any but audio.
namespace couplet {

// Fills in history, moved_dB, correctionChange_dB, the warning and the notes of an outcome that has its offset.
void compareWithHistory(ReferenceOutcome&, const ReferenceSetup&);

} // namespace couplet
