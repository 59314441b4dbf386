// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <string>
#include <vector>

// Purpose: a published table to hold the product against. Its first line names the source after '#', the
//          next one the columns; fields may be quoted.
// Errors:  a table, column or number that is not there throws, which fails the test that asked.
namespace couplet::published {

class Row
{
public:
    explicit Row(std::map<std::string, std::string> fields) : content(std::move(fields)) {}

    const std::string& text(const std::string& column) const { return content.at(column); }
    bool isBlank(const std::string& column) const { return text(column).empty(); }
    double number(const std::string& column) const; // "inf" is infinity

private:
    std::map<std::string, std::string> content;
};

struct Table
{
    std::string source;
    std::vector<Row> rows;
};

// `name` without folder and extension: "gum_h1_budget".
Table table(const std::string& name);

} // namespace couplet::published
