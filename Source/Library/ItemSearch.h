// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <cstddef>
#include <string_view>
#include <vector>

// Purpose: the items that a person means by a few typed words.
// Rules:   every word must be found, in any order, in the name, the kind, the serial, the microphone, the input or its
//          gain, or as the number of the slot ("3" or "slot 3"), whatever case and Latin accents. A whole word counts
//          more than a word's beginning, that more than a part, the name more than what else is known; of equal ones
//          the order stays. No word: everything.
// Thread:  any but audio.
namespace couplet {

// Places in `items`, best first.
std::vector<std::size_t> search(std::string_view query, const std::vector<Item>& items);

} // namespace couplet
