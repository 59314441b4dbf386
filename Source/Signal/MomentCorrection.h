// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/HopSummer.h"

// Purpose: makes the first moments of a hop exact for the tone's own leakage. They are summed with each chunk's
//          centre for its samples' times, which is right for a line alone; but a strong tone whose sum or difference
//          with a line is a multiple of the chunk rate aliases into that line's moment; the mains' frequency
//          would follow it, and a harmonic whose frequency is moved afterwards. What aliases is known in closed form once the tone is.
// Thread:  audio (no allocation, no locks).
namespace couplet {

// `lines`: amplitudes at this hop's centre, at the hop's own tuning. A hop is corrected once.
void correctMoments(HopSums&, const LineSet& lines, int chunksInHop);

} // namespace couplet
