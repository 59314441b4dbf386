// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

// Purpose: what is left of a tone that wobbles when it was taken out as it was foretold to be, and is no noise.
// Units:   mean squares over a hop, relative to full scale = 1.
// Thread:  any (a value).
namespace couplet {

struct WobbleLeft
{
    double left = 0.0;   // of the tone
    double unsure = 0.0; // how much more may be left, harmonics included
    double gainA = 1.0;  // how the A weighting hears the tone
};

} // namespace couplet
