// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Coupler.h"
#include "Quantities/Outcome.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

// Purpose: a microphone's response table from its text file, as makers and laboratories hand them out: rows of
//          frequency in Hz and response in dB, and perhaps a third column (phase), which is not used.
// Ranges:  frequencies above 0 and ascending, responses within -40 to +40 dB, at least two rows.
// Rules:   whatever stands before the first row of numbers is comment; after it, empty lines and lines that begin
//          with * # ; / " ' or ! are. Columns are parted by semicolons, tabs, spaces or commas. A comma is a decimal
//          comma where something else parts the columns.
// Thread:  any but audio.
namespace couplet {

// `where` names the file in a fault, which also names the line and the mend.
Outcome<std::vector<ResponsePoint>> parseResponseTable(std::string_view text, const std::string& where);

Outcome<std::vector<ResponsePoint>> readResponseTable(const std::filesystem::path&);

} // namespace couplet
