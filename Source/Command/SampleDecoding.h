// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Command/TakeFormat.h"

// Purpose: samples as they stand in a file, turned into floats.
// Units:   relative to full scale: an integer of b bits is divided by 2^(b-1), exactly up to 24 bits.
// Thread:  any (no allocation).
namespace couplet {

// `frames` samples of one channel, counted from 0, of the whole frames at `bytes`. NaN passes as it is.
void decodeChannel(const unsigned char* bytes, int frames, const TakeFormat&, int channel, float* into);

} // namespace couplet
