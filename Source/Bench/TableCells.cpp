// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/TableCells.h"

#include "Library/Utf8.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <limits>
#include <optional>

namespace couplet {
namespace {

// Outside quotes, the first of these in the first line parts the cells: semicolons before tabs before commas, for only
// they leave the comma to the decimals.
char separatorOf(std::string_view line)
{
    bool quotes = false, semicolon = false, tab = false;
    for (const char c : line) {
        if (c == '"')
            quotes = !quotes;
        semicolon = semicolon || (!quotes && c == ';');
        tab = tab || (!quotes && c == '\t');
    }
    return semicolon ? ';' : tab ? '\t' : ',';
}

// Absent when a quote is not closed, or something follows it.
std::optional<std::vector<std::string>> cellsOf(std::string_view line, char separator)
{
    std::vector<std::string> cells;
    for (std::size_t at = 0;; ++at) {
        while (at < line.size() && line[at] == ' ')
            ++at;
        if (at < line.size() && line[at] == '"') {
            std::string cell;
            for (++at; at < line.size(); ++at) {
                if (line[at] != '"')
                    cell += line[at];
                else if (at + 1 < line.size() && line[at + 1] == '"')
                    cell += line[at++]; // a quote twice stands for itself
                else
                    break;
            }
            if (at >= line.size())
                return std::nullopt;
            const auto end = std::min(line.find(separator, at), line.size());
            if (!trimmed(line.substr(at + 1, end - at - 1)).empty())
                return std::nullopt;
            cells.emplace_back(trimmed(cell));
            at = end;
        }
        else {
            const auto end = std::min(line.find(separator, at), line.size());
            cells.emplace_back(trimmed(line.substr(at, end - at)));
            at = end;
        }
        if (at >= line.size())
            return cells;
    }
}

} // namespace

std::optional<double> numberIn(std::string digits)
{
    if (constexpr std::string_view minus = "\u2212"; digits.starts_with(minus))
        digits.replace(0, minus.size(), "-");
    if (digits.starts_with("+"))
        digits.erase(0, 1);
    std::replace(digits.begin(), digits.end(), ',', '.');
    double value = 0.0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (error == std::errc::invalid_argument || end != digits.data() + digits.size())
        return std::nullopt;
    return error == std::errc{} ? value : std::numeric_limits<double>::infinity();
}

Outcome<TableCells> tableCellsOf(std::string_view text, const std::string& where)
{
    constexpr std::string_view byteOrderMark = "\xEF\xBB\xBF";
    if (text.starts_with(byteOrderMark))
        text.remove_prefix(byteOrderMark.size());
    if (text.find('\0') != std::string_view::npos)
        return Fault{fmt::format("{}: it is no plain text; save it again as CSV in UTF-8", where)};
    TableCells table;
    for (std::size_t number = 1; !text.empty(); ++number) {
        const auto end = text.find_first_of("\r\n");
        const auto line = text.substr(0, end);
        const bool isPair = end != std::string_view::npos && text.substr(end, 2) == "\r\n";
        text = end == std::string_view::npos ? std::string_view{} : text.substr(end + (isPair ? 2 : 1));
        if (!charactersOf(line))
            return Fault{
                fmt::format("{}, line {}: it is not UTF-8; save the table again as CSV in UTF-8", where, number)};
        if (trimmed(line).empty())
            continue;
        if (table.lines.empty())
            table.separator = separatorOf(line);
        auto cells = cellsOf(line, table.separator);
        if (!cells)
            return Fault{fmt::format("{}, line {}: a quote is not closed, or text follows it; put quotes around the "
                                     "whole cell and write a quote inside it twice",
                                     where, number)};
        // A spreadsheet ends its table with lines of separators alone.
        if (std::any_of(cells->begin(), cells->end(), [](const std::string& cell) { return !cell.empty(); }))
            table.lines.push_back({number, *std::move(cells), std::string(trimmed(line))});
    }
    return table;
}

} // namespace couplet
