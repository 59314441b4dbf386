// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/CorrectionFit.h"
#include "Quantities/Outcome.h"

#include <string>
#include <string_view>
#include <variant>
#include <vector>

// Purpose: what was pasted for a fit: a table of readings, or a bare column of a spreadsheet, one level a line and
//          nothing else.
// Rules:   a column has a single cell in its first line and a number in some line, or begins with a number; then every
//          line is to be a number, with a decimal point or comma, in quotes or not, with dB behind it or not. Commas
//          that may as well part two whole numbers, on every line, are refused.
// Units:   dB.
// Ranges:  as ReadingsTable has them.
// Errors:  a sentence that names `where`, the line and the mend.
// Thread:  any but audio.
namespace couplet {

using PastedReadings = std::variant<FitInput, std::vector<double>>;

Outcome<PastedReadings> pastedReadings(std::string_view text, const std::string& where);

} // namespace couplet
