// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/CorrectionFit.h"
#include "Quantities/Outcome.h"

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

// Purpose: readings for a fit from a table: a file, or what was pasted from a spreadsheet.
// Rules:   a line of column names, then one reading a line:
//              kind,name,level_db,expected_db,tolerance_db,expanded_uncertainty_db
//              direct,<fitting>,level       the bare microphone in the calibrator
//              through,,level               the same microphone behind the coupler
//              earphone,<name>,level,expected,tolerance,U    read as if the coupler took nothing away
//              aside,<name>,...             an earphone that stays out of the choice
//          Columns in any order, and besides them `set_aside` (a reason: the reading does not count), `at` (when it was
//          taken: seconds, or ISO 8601 with its zone), `frequency_hz` and `calibrator`. Cells may be empty or missing
//          at the end. Decimal commas where semicolons or tabs part the cells. Pasted with tabs, the first line may be
//          a reading: its columns are those above.
// Units:   dB; U is expanded (95.45 %), the tolerance a half-width.
// Ranges:  levels within -200 to 300 dB; at most 4 MB.
// Errors:  a sentence that names `where`, the line and the mend. No text whatever ends in anything else.
// Thread:  any but audio.
namespace couplet {

inline constexpr std::size_t largestTable_bytes = 4u << 20;

// The settings are left as they are by default.
Outcome<FitInput> readingsFromTable(std::string_view text, const std::string& where);

Outcome<FitInput> readReadingsTable(const std::filesystem::path&);

} // namespace couplet
