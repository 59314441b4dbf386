// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceTaking.h"

#include <vector>

// Purpose: sentences beside a reference that is being taken: what was unusual, left out, or not checked. Each function adds
//          its own to the outcome's notes, or nothing.
// Units:   dB, s.
// Thread:  any but audio.
namespace couplet {

void noteWhatIsUnusual(ReferenceOutcome&, const ReferenceSetup&); // pressure, correction, certificate
void noteDisturbances(ReferenceOutcome&);
void noteSeatings(ReferenceOutcome&);
void noteLevelTaken(ReferenceOutcome&, const ReferenceSetup&);
// Of each take: what was clipped outside its stretch, and a gain that settled.
void noteWithinTakes(ReferenceOutcome&, const std::vector<ToneSummary>& seatings);
// Of one level: what its third harmonic may mean, and that linearity was not checked.
void noteLinearity(ReferenceOutcome&, const ReferenceSetup&);

} // namespace couplet
