// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/PastedReadings.h"

#include "Bench/FitSheet.h"
#include "Bench/ReadingsTable.h"
#include "Bench/TableCells.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

// A spreadsheet may end a line with separators alone.
std::string_view onlyCellOf(const TableLine& line)
{
    std::string_view text = line.text;
    while (text.ends_with(';') || text.ends_with('\t'))
        text = trimmed(text.substr(0, text.size() - 1));
    return text;
}

bool isNumber(const TableLine& line)
{
    return numberIn(std::string(onlyCellOf(line))).has_value();
}

bool isColumn(const TableCells& table)
{
    if (table.lines.empty())
        return false;
    const auto& first = table.lines.front();
    const bool single = onlyCellOf(first).find_first_of(",;\t") == std::string_view::npos;
    return isNumber(first) || (single && std::any_of(table.lines.begin(), table.lines.end(), isNumber));
}

Outcome<PastedReadings> levelsOf(const TableCells& column, const std::string& where)
{
    std::vector<double> levels_dB;
    for (const auto& line : column.lines) {
        const auto text = onlyCellOf(line);
        const auto level_dB = numberIn(std::string(text));
        const auto refused = [&](const std::string& what) {
            return Fault{fmt::format("{}, line {}: {} {}; correct it, or take the line out", where, line.number,
                                     couplet::quoted(text), what)};
        };
        if (!level_dB)
            return refused("is no number, and a column of readings holds nothing else");
        if (!(*level_dB >= lowestFitLevel_dB && *level_dB <= highestFitLevel_dB))
            return refused(fmt::format("is outside {:g} to {:g} dB", lowestFitLevel_dB, highestFitLevel_dB));
        levels_dB.push_back(*level_dB);
    }
    return PastedReadings(std::move(levels_dB));
}

} // namespace

Outcome<PastedReadings> pastedReadings(std::string_view text, const std::string& where)
{
    if (text.size() <= largestTable_bytes)
        if (const auto cells = tableCellsOf(text, where); cells && isColumn(*cells))
            return levelsOf(*cells, where);
    auto table = readingsFromTable(text, where);
    if (!table)
        return table.fault();
    return PastedReadings(*std::move(table));
}

} // namespace couplet
