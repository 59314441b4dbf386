// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>

// Purpose: names as they are compared when a person looks for one: whatever their case (Latin, Greek, Cyrillic) and
//          accents (Latin); other scripts as they stand.
// Thread:  any but audio.
namespace couplet {

std::u32string folded(std::string_view);

} // namespace couplet
