// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <vector>

// Purpose: what a new library starts with: the items of `Presets/`, compiled in. Couplers by the kinds that the
//          standards name, without a reference, so that none shows dB SPL before its first; calibrators by class,
//          without a certificate; the earphones of the simulated bench, marked simulated.
// Thread:  any but audio.
namespace couplet {

const std::vector<Item>& presets(); // by kind, then name

// Makes a library whose folder is not there yet, with the presets in it: the whole folder or none. One that is there
// is left as it is, also an empty one: what was removed does not come back by itself.
Outcome<Done> startLibrary(const Folder&);

} // namespace couplet
