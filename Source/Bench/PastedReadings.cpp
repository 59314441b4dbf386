// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/PastedReadings.h"

#include "Bench/FitSheet.h"
#include "Bench/ReadingsTable.h"
#include "Bench/TableCells.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace couplet {
namespace {

constexpr std::string_view separators = ",;\t";

bool isDigit(char c)
{
    return c >= '0' && c <= '9';
}

// A spreadsheet may end a line with separators alone, and puts quotes around a number whose comma would part cells.
std::string onlyCellOf(const TableLine& line)
{
    std::string_view text = line.text;
    while (!text.empty() && separators.find(text.back()) != std::string_view::npos)
        text = trimmed(text.substr(0, text.size() - 1));
    const auto& cells = line.cells;
    const bool single = std::all_of(cells.begin() + 1, cells.end(), [](const auto& cell) { return cell.empty(); });
    return single && text.starts_with('"') ? cells.front() : std::string(text);
}

// Its unit may stand behind it.
std::string withoutUnit(const std::string& cell)
{
    std::string_view text = cell;
    if (text.ends_with("dB"))
        text = trimmed(text.substr(0, text.size() - 2));
    return std::string(text);
}

std::optional<double> levelIn(const std::string& cell)
{
    return numberIn(withoutUnit(cell));
}

bool beginsWithNumber(std::string_view cell)
{
    for (const std::string_view sign : {"+", "-", "\u2212"})
        if (cell.starts_with(sign)) {
            cell.remove_prefix(sign.size());
            break;
        }
    return !cell.empty() && isDigit(cell.front());
}

// Two whole numbers on a line that could both be readings, or a number and a reading: "114,115", "1,94".
struct Halves
{
    double first, second;
};

// Absent: the line is one number for certain.
std::optional<Halves> halvesOf(const TableLine& line)
{
    const auto cell = onlyCellOf(line);
    const auto comma = cell.find(',');
    if (line.text.starts_with('"') || comma == std::string::npos || comma + 1 == cell.size() || cell[comma + 1] == '0')
        return {};
    const auto second = cell.substr(comma + 1);
    if (!std::all_of(second.begin(), second.end(), isDigit))
        return {};
    const auto first_dB = numberIn(cell.substr(0, comma)), second_dB = numberIn(second);
    if (!first_dB || !second_dB || *second_dB > highestFitLevel_dB)
        return {};
    return Halves{*first_dB, *second_dB};
}

// A decimal comma and one between cells look alike. They part two readings in a row, or a reading from its number,
// where every line could be that: three digits behind each, or lines that count up from 0 or 1.
bool isAmbiguous(const std::vector<TableLine>& lines)
{
    constexpr double alike_dB = 40.0;
    bool inARow = true, hundreds = true, counted = true;
    std::optional<double> begin, before;
    for (const auto& line : lines) {
        const auto halves = halvesOf(line);
        if (!halves)
            return false;
        const auto [first, second] = *halves;
        hundreds = hundreds && second >= 100.0;
        inARow = inARow && std::abs(second - first) <= alike_dB;
        counted = counted && (!before || first == *before + 1.0);
        begin = begin.value_or(first);
        before = first;
    }
    const bool fromStart = begin && (*begin == 0.0 || *begin == 1.0), several = lines.size() > 1;
    return hundreds ? inARow || (counted && (several || fromStart)) : counted && several && fromStart;
}

// What begins with a number names no columns.
bool isColumn(const std::vector<TableLine>& lines)
{
    if (lines.empty())
        return false;
    const auto first = onlyCellOf(lines.front());
    const auto isNumber = [](const TableLine& line) { return levelIn(onlyCellOf(line)).has_value(); };
    return beginsWithNumber(first) || isNumber(lines.front()) ||
           (first.find_first_of(separators) == std::string::npos && std::any_of(lines.begin(), lines.end(), isNumber));
}

bool holdsSeveral(const std::string& cell)
{
    return cell.find_first_of(";\t") != std::string::npos || std::count(cell.begin(), cell.end(), ',') > 1;
}

Outcome<PastedReadings> levelsOf(const std::vector<TableLine>& lines, const std::string& where)
{
    if (isAmbiguous(lines))
        return Fault{fmt::format("{}, line {}: {} may be one number or two; write a decimal point, or put one column "
                                 "there",
                                 where, lines.front().number, couplet::quoted(onlyCellOf(lines.front())))};
    std::vector<double> levels_dB;
    for (const auto& line : lines) {
        const auto text = onlyCellOf(line);
        const auto level_dB = levelIn(text);
        const auto refused = [&](const std::string& what) {
            return Fault{fmt::format("{}, line {}: {} {}; correct it, or take the line out", where, line.number,
                                     couplet::quoted(text), what)};
        };
        if (!level_dB && beginsWithNumber(text) && holdsSeveral(text))
            return refused("is more than one number, and a column of readings holds plain numbers, one a line");
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
        if (auto cells = tableCellsOf(text, where)) {
            auto& lines = cells->lines;
            std::erase_if(lines, [](const TableLine& line) { return onlyCellOf(line).empty(); });
            if (isColumn(lines))
                return levelsOf(lines, where);
        }
    auto table = readingsFromTable(text, where);
    if (!table)
        return table.fault();
    return PastedReadings(*std::move(table));
}

} // namespace couplet
