// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceTaking.h"
#include "Command/Arguments.h"
#include "Library/Folder.h"
#include "Quantities/Outcome.h"

// Purpose: what a call of `couplet reference` says of the coupler, its calibrator and the judged terms.
// Errors:  one sentence that names the option and the mend.
// Thread:  any but audio.
namespace couplet {

Outcome<ReferenceSetup> referenceSetup(const Arguments&, const Folder&);

} // namespace couplet
