// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string_view>
#include <vector>

// Purpose: the files of `Presets/` as they were when the program was built (Presets.cmake writes the source).
// Thread:  any but audio.
namespace couplet {

std::vector<std::string_view> presetTexts();

} // namespace couplet
