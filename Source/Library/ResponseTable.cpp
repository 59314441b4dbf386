// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/ResponseTable.h"

#include "Library/Descriptor.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

namespace couplet {
namespace {

constexpr std::size_t largestTable_bytes = 4u << 20;
constexpr double largestResponse_dB = 40.0;
constexpr std::string_view blanks = " \t\r\f\v\x1A"; // the last: the end of a file, as DOS marked it

std::string_view trimmed(std::string_view text)
{
    const auto first = text.find_first_not_of(blanks);
    return first == std::string_view::npos ? std::string_view{}
                                           : text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

// Parted at each `separator`, or at runs of blanks when that is a blank.
std::vector<std::string> parted(std::string_view line, char separator)
{
    std::vector<std::string> fields;
    while (!line.empty()) {
        const auto end = separator == ' ' ? line.find_first_of(blanks) : line.find(separator);
        fields.emplace_back(trimmed(line.substr(0, end)));
        line = end == std::string_view::npos ? std::string_view{} : line.substr(end + 1);
        if (separator == ' ')
            line = trimmed(line);
    }
    while (!fields.empty() && fields.back().empty())
        fields.pop_back(); // a separator at the line's end
    return fields;
}

// Semicolons part columns wherever there are any, then blanks, then commas; a comma with a blank after it
// parts too
// ("20, -0.12"), for no number has a blank in it.
char separatorOf(std::string_view line)
{
    if (line.find(';') != std::string_view::npos)
        return ';';
    const auto comma = line.find(',');
    const bool commaThenBlank = comma + 1 < line.size() && blanks.find(line[comma + 1]) != std::string_view::npos;
    const bool hasBlank = line.find_first_of(blanks) != std::string_view::npos;
    return comma != std::string_view::npos && (commaThenBlank || !hasBlank) ? ',' : ' ';
}

// Infinities and NaN count as numbers here, so that they are refused as what they are and not taken for
// comment.
std::optional<double> numberIn(std::string text)
{
    std::replace(text.begin(), text.end(), ',', '.');
    const auto* start = text.data() + (text.starts_with('+') ? 1 : 0);
    const auto* end = text.data() + text.size();
    double value = 0.0;
    const auto result = std::from_chars(start, end, value);
    if (result.ec == std::errc::result_out_of_range && result.ptr == end)
        return std::numeric_limits<double>::infinity();
    return result.ec == std::errc{} && result.ptr == end ? std::optional<double>(value) : std::nullopt;
}

struct Row
{
    std::vector<double> numbers;
    bool decimalPoint = false, decimalComma = false;
};

std::optional<Row> rowIn(std::string_view line)
{
    Row row;
    for (const auto& field : parted(line, separatorOf(line))) {
        const auto number = numberIn(field);
        if (!number)
            return std::nullopt;
        row.numbers.push_back(*number);
        row.decimalPoint = row.decimalPoint || field.find('.') != std::string::npos;
        row.decimalComma = row.decimalComma || field.find(',') != std::string::npos;
    }
    return row;
}

class Table
{
public:
    std::vector<ResponsePoint> points;

    // What is wrong with the line, with the mend; absent when nothing is.
    std::optional<std::string> add(std::string_view line)
    {
        constexpr std::string_view commentMarks = "*#;/\"'!";
        if (line.empty() || commentMarks.find(line.front()) != std::string_view::npos)
            return std::nullopt;
        const auto row = rowIn(line);
        if (!row)
            return points.empty()
                       ? std::nullopt
                       : std::optional<std::string>("it is no row of numbers; take it out or begin it with #");
        if (row->numbers.size() > 3)
            return fmt::format("it has {} columns, but must have frequency, level and perhaps phase; take the others "
                               "out, or write decimal points where commas are both",
                               row->numbers.size());
        if (row->numbers.size() < 2)
            return points.empty() ? std::nullopt
                                  : std::optional<std::string>("it has no level beside the frequency; add it in dB or "
                                                               "take the line out");
        return addRow(*row);
    }

private:
    bool decimalPoint = false, decimalComma = false;

    std::optional<std::string> addRow(const Row& row)
    {
        decimalPoint = decimalPoint || row.decimalPoint;
        decimalComma = decimalComma || row.decimalComma;
        if (decimalPoint && decimalComma)
            return "decimal points and decimal commas are mixed; write decimal points throughout";
        const double frequency = row.numbers[0], response = row.numbers[1];
        if (!std::isfinite(frequency) || !std::isfinite(response))
            return "a number is not finite; correct it or take the line out";
        if (frequency <= 0.0)
            return fmt::format("the frequency {} is not above 0 Hz; correct it", frequency);
        if (!points.empty() && frequency <= points.back().frequency.value)
            return fmt::format("{} Hz does not lie above the {} Hz before it; put the rows in ascending order, each "
                               "frequency once",
                               frequency, points.back().frequency.value);
        if (std::abs(response) > largestResponse_dB)
            return fmt::format("{} dB is outside -40 to 40 dB; give the response relative to that at the reference "
                               "frequency",
                               response);
        points.push_back({Hertz{frequency}, response});
        return std::nullopt;
    }
};

} // namespace

Outcome<std::vector<ResponsePoint>> parseResponseTable(std::string_view text, const std::string& where)
{
    constexpr std::string_view byteOrderMark = "\xEF\xBB\xBF";
    if (text.starts_with(byteOrderMark))
        text.remove_prefix(byteOrderMark.size());
    if (text.find('\0') != std::string_view::npos)
        return Fault{fmt::format("{}: it is no plain text; save it again as UTF-8", where)};
    Table table;
    for (int line = 1; !text.empty(); ++line) {
        const auto end = text.find_first_of("\r\n");
        if (const auto wrong = table.add(trimmed(text.substr(0, end))))
            return Fault{fmt::format("{}, line {}: {}", where, line, *wrong)};
        const bool isPair = end != std::string_view::npos && text.substr(end, 2) == "\r\n";
        text = end == std::string_view::npos ? std::string_view{} : text.substr(end + (isPair ? 2 : 1));
    }
    if (table.points.size() < 2)
        return Fault{fmt::format("{}: it has {} of the at least 2 rows needed; give each a frequency in Hz and a level "
                                 "in dB, as numbers without units",
                                 where, table.points.size())};
    return std::move(table.points);
}

Outcome<std::vector<ResponsePoint>> readResponseTable(const std::filesystem::path& file)
{
    const auto where = onOneLine(file.string());
    const auto text = contentOf(file, largestTable_bytes);
    if (!text)
        return Fault{fmt::format("{}: it could not be read ({}); check its name and its permissions", where,
                                 text.fault().sentence)};
    return parseResponseTable(*text, where);
}

} // namespace couplet
