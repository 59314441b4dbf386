// SPDX-License-Identifier: GPL-3.0-or-later
#include "Published/Table.h"

#include <charconv>
#include <fstream>
#include <stdexcept>

namespace couplet::published {
namespace {

std::vector<std::string> fieldsOf(const std::string& line)
{
    std::vector<std::string> fields(1);
    bool inQuotes = false;
    for (const char c : line) {
        if (c == '"')
            inQuotes = !inQuotes;
        else if (c == ',' && !inQuotes)
            fields.emplace_back();
        else if (c != '\r')
            fields.back() += c;
    }
    return fields;
}

Row rowOf(const std::vector<std::string>& columns, const std::vector<std::string>& fields)
{
    if (fields.size() != columns.size())
        throw std::runtime_error("a row of " + std::to_string(fields.size()) + " fields under " +
                                 std::to_string(columns.size()) + " columns");
    std::map<std::string, std::string> content;
    for (std::size_t i = 0; i < columns.size(); ++i)
        content[columns[i]] = fields[i];
    return Row(std::move(content));
}

} // namespace

double Row::number(const std::string& column) const
{
    const auto& field = text(column);
    double value = 0.0;
    const auto [end, error] = std::from_chars(field.data(), field.data() + field.size(), value);
    if (error != std::errc{} || end != field.data() + field.size())
        throw std::runtime_error("'" + field + "' in column " + column + " is not a number");
    return value;
}

Table table(const std::string& name)
{
    std::ifstream file(std::string(COUPLET_TESTS_DIR) + "/Published/" + name + ".csv");
    Table result;
    std::string line;
    if (!std::getline(file, line) || !line.starts_with("# "))
        throw std::runtime_error("no published table " + name + ", or its source is not named");
    result.source = line.substr(2);
    std::getline(file, line);
    const auto columns = fieldsOf(line);
    while (std::getline(file, line))
        if (!line.empty())
            result.rows.push_back(rowOf(columns, fieldsOf(line)));
    if (result.rows.empty())
        throw std::runtime_error("published table " + name + " is empty");
    return result;
}

} // namespace couplet::published
