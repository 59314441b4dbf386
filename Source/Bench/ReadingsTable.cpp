// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/ReadingsTable.h"

#include "Bench/TableCells.h"
#include "Library/Descriptor.h"
#include "Library/IsoTime.h"
#include "Library/Names.h"
#include "Library/Utf8.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace couplet {
namespace {

constexpr std::size_t longestName = 120; // characters, as the library's names
constexpr double lowestLevel_dB = -200.0, highestLevel_dB = 300.0, largestSpread_dB = 100.0;

enum Column : std::size_t { kind, name, level, expected, tolerance, uncertainty, setAside, at, frequency, calibrator };
constexpr std::array<std::string_view, 10> columnNames{
    "kind",      "name", "level_db",     "expected_db", "tolerance_db", "expanded_uncertainty_db",
    "set_aside", "at",   "frequency_hz", "calibrator"};
constexpr std::size_t absent = static_cast<std::size_t>(-1);

std::string lowered(std::string text)
{
    std::transform(text.begin(), text.end(), text.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return text;
}

bool isKind(const std::string& cell)
{
    const auto word = lowered(cell);
    return word == "direct" || word == "through" || word == "earphone" || word == "aside";
}

// A fault without its place.
using Number = Outcome<std::optional<double>>;

class Reader
{
public:
    Reader(const TableCells& t, std::string w) : table(t), where(std::move(w)) { place.fill(absent); }

    Outcome<FitInput> run()
    {
        if (table.lines.empty())
            return Fault{fmt::format("{}: it is empty; give it a line of column names ({}...) and one reading a line",
                                     where, "kind,name,level_db,")};
        auto line = table.lines.begin();
        if (table.separator == '\t' && isKind(line->cells.front())) {
            for (std::size_t column = 0; column <= uncertainty; ++column)
                place[column] = column;
        }
        else if (const auto done = readHeader(*line++); !done) {
            return done.fault();
        }
        for (; line != table.lines.end(); ++line) {
            current = &*line;
            if (const auto done = readLine(); !done)
                return Fault{fmt::format("{}, line {}: {}", where, line->number, done.fault().sentence)};
        }
        return std::move(input);
    }

private:
    Outcome<Done> readHeader(const TableLine& line)
    {
        const auto refused = [&](const std::string& what) {
            return Fault{fmt::format("{}, line {}: {}", where, line.number, what)};
        };
        for (std::size_t i = 0; i < line.cells.size(); ++i) {
            const auto word = lowered(line.cells[i]);
            if (word.empty())
                continue;
            const auto known = std::find(columnNames.begin(), columnNames.end(), word);
            if (known == columnNames.end())
                return refused(fmt::format("{} is no column; the first line names the columns: {}",
                                           couplet::quoted(line.cells[i]),
                                           "kind,name,level_db,expected_db,tolerance_db,expanded_uncertainty_db"));
            auto& column = place[static_cast<std::size_t>(known - columnNames.begin())];
            if (column != absent)
                return refused(fmt::format("the column '{}' stands twice; take one out", word));
            column = i;
        }
        for (const Column needed : {kind, name, level})
            if (place[needed] == absent)
                return refused(fmt::format("the column '{}' is missing; add it", columnNames[needed]));
        columns = line.cells.size();
        return Done{};
    }

    const std::string& cell(Column column) const
    {
        static const std::string none;
        return place[column] < current->cells.size() ? current->cells[place[column]] : none;
    }

    std::string itsName() const { return keptName(cell(name)); }

    Number number(Column column, double low, double high) const
    {
        std::string text = cell(column);
        if (text.empty())
            return std::optional<double>{};
        const auto refused = [&](std::string_view what) {
            return Fault{fmt::format("{} in '{}' {}; write a plain number, for example 114.02", couplet::quoted(text),
                                     columnNames[column], what)};
        };
        if (table.separator == ',' && text.find(',') != std::string::npos)
            return refused("has a comma, which parts the cells here");
        const auto value = numberIn(text);
        if (!value)
            return refused("is no number");
        if (!(*value >= low && *value <= high))
            return refused(fmt::format("is outside {:g} to {:g}", low, high));
        return value;
    }

    Outcome<std::optional<double>> time() const
    {
        if (const auto instant = instantFrom(cell(at)))
            return std::optional<double>(std::chrono::duration<double>(instant->time_since_epoch()).count());
        if (auto seconds = number(at, -1e12, 1e12))
            return seconds;
        return Fault{fmt::format("{} in 'at' is no time; write seconds, or a time such as 2026-05-03T12:04:11Z",
                                 couplet::quoted(cell(at)))};
    }

    Outcome<Done> readLine()
    {
        if (columns > 0 && current->cells.size() > columns &&
            std::any_of(current->cells.begin() + static_cast<std::ptrdiff_t>(columns), current->cells.end(),
                        [](const std::string& c) { return !c.empty(); }))
            return Fault{fmt::format("it has {} cells and the first line names {}; put semicolons between the cells "
                                     "where numbers have decimal commas",
                                     current->cells.size(), columns)};
        const auto word = lowered(cell(kind));
        if (!isKind(word))
            return Fault{fmt::format("{} is no kind of reading; write direct, through, earphone or aside",
                                     couplet::quoted(cell(kind)))};
        const auto value = number(level, lowestLevel_dB, highestLevel_dB);
        if (!value)
            return value.fault();
        if (!*value)
            return Fault{"the level is missing; write it in 'level_db', or take the line out"};
        if (const auto characters = charactersOf(itsName()); !characters || characters->size() > longestName)
            return Fault{fmt::format("the name is longer than {} characters; shorten it", longestName)};
        return word == "direct" || word == "through" ? readMicrophone(word == "through", **value)
                                                     : readEarphone(word == "aside", **value);
    }

    Outcome<Done> readMicrophone(bool through, double level_dB)
    {
        for (const Column column : {expected, tolerance, uncertainty})
            if (!cell(column).empty())
                return Fault{fmt::format("'{}' belongs to earphones; leave it empty here", columnNames[column])};
        if (through && !itsName().empty())
            return Fault{"a reading through the coupler has no name; leave it empty, or write 'direct' for a fitting"};
        if (!through && itsName().empty())
            return Fault{"the fitting has no name; write in 'name' how the microphone was fitted"};
        FitReading reading{level_dB, cell(setAside), {}, {}, cell(calibrator)};
        const auto when = time();
        if (!when)
            return when.fault();
        reading.at_s = *when;
        const auto hertz = number(frequency, 1.0, 1e6);
        if (!hertz)
            return hertz.fault();
        if (*hertz)
            reading.frequency = Hertz(**hertz);
        if (through) {
            input.through.readings.push_back(std::move(reading));
            return Done{};
        }
        const auto same = [&](const FitGroup& group) { return lookTheSame(group.name, itsName()); };
        auto group = std::find_if(input.fittings.begin(), input.fittings.end(), same);
        if (group == input.fittings.end()) {
            if (input.fittings.size() == mostFittings)
                return Fault{
                    fmt::format("this is fitting {}, and at most {} are taken; give the readings of one fitting "
                                "one name",
                                mostFittings + 1, mostFittings)};
            group = input.fittings.insert(group, FitGroup{itsName(), {}});
        }
        group->readings.push_back(std::move(reading));
        return Done{};
    }

    Outcome<Done> readEarphone(bool aside, double level_dB)
    {
        if (itsName().empty())
            return Fault{"the earphone has no name; write it in 'name'"};
        const auto expectedLevel = number(expected, lowestLevel_dB, highestLevel_dB);
        if (!expectedLevel)
            return expectedLevel.fault();
        if (!*expectedLevel)
            return Fault{"the level expected of the earphone is missing; write it in 'expected_db', or take the line "
                         "out"};
        const auto halfWidth = number(tolerance, 0.0, largestSpread_dB), U = number(uncertainty, 0.0, largestSpread_dB);
        if (!halfWidth)
            return halfWidth.fault();
        if (!U)
            return U.fault();
        for (const auto& other : input.earphones)
            if (lookTheSame(other.name, itsName()))
                return Fault{
                    fmt::format("{} stands twice; write the mean of its readings once, or give each side a name",
                                couplet::quoted(other.name))};
        if (input.earphones.size() == mostFitEarphones)
            return Fault{fmt::format("this is earphone {}, and at most {} are taken; take it out", mostFitEarphones + 1,
                                     mostFitEarphones)};
        constexpr double coverage = 2.0; // every U that is written is 2 u
        FitEarphone earphone{itsName(), level_dB, **expectedLevel, *halfWidth, {}, aside, cell(setAside)};
        if (*U)
            earphone.u_dB = **U / coverage;
        input.earphones.push_back(std::move(earphone));
        return Done{};
    }

    const TableCells& table;
    std::string where;
    std::array<std::size_t, columnNames.size()> place{};
    std::size_t columns = 0; // 0: the first line is a reading
    const TableLine* current = nullptr;
    FitInput input;
};

} // namespace

Outcome<FitInput> readingsFromTable(std::string_view text, const std::string& where)
{
    if (text.size() > largestTable_bytes)
        return Fault{
            fmt::format("{}: it is larger than {} MB; is it the right file?", where, largestTable_bytes >> 20)};
    const auto cells = tableCellsOf(text, where);
    if (!cells)
        return cells.fault();
    return Reader(*cells, where).run();
}

Outcome<FitInput> readReadingsTable(const std::filesystem::path& file)
{
    const auto where = onOneLine(file.string());
    const auto text = contentOf(file, largestTable_bytes);
    if (!text)
        return Fault{fmt::format("{}: it could not be read ({}); check its name and its permissions", where,
                                 text.fault().sentence)};
    return readingsFromTable(*text, where);
}

} // namespace couplet
