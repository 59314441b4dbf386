// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

// Purpose: a table as text taken apart: comma, semicolon or tab between cells, quotes around a cell that holds one of
//          these, any line ends, a byte-order mark or none. One separator for the whole table, told by its first line.
// Source:  RFC 4180, without line breaks inside cells.
// Errors:  a sentence that names `where`, the line and the mend.
// Thread:  any but audio.
namespace couplet {

struct TableLine
{
    std::size_t number = 0;         // counted from 1, blank lines too
    std::vector<std::string> cells; // without the white space around them
    std::string text;               // the whole line, likewise
};

struct TableCells
{
    char separator = ',';
    std::vector<TableLine> lines; // those that hold anything
};

// With a decimal point or comma, whatever the locale; infinite where it is too large. Absent: it is no number.
std::optional<double> numberIn(std::string cell);

Outcome<TableCells> tableCellsOf(std::string_view text, const std::string& where);

} // namespace couplet
