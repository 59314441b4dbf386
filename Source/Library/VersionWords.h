// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <string>

// Purpose: what was changed from one version of an item to the next, in one short phrase: "correction 1.44 → 1.52 dB",
//          "slot 3 → none", "2 references more".
// Rules:   at most two changes are named, then how many more there are; a number has as many decimals as tell the two
//          apart. Empty: nothing differs.
// Thread:  any but audio.
namespace couplet {

std::string changeWords(const Item& before, const Item& after);

} // namespace couplet
