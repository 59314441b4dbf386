// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tables.h"

#include <fmt/format.h>

#include <cstdlib>
#include <fstream>
#include <iterator>

// couplet_speed                       prints every table
// couplet_speed --update FILE [PART]  puts them, or that one alone, between the marks of a Markdown file
// couplet_speed --stage NAME SECONDS  runs one stage alone, for counting its instructions
namespace {

struct Part
{
    const char* mark;
    std::string (*table)();
};
constexpr Part parts[] = {{"stages", couplet::speed::stagesTable},       {"windows", couplet::speed::windowsTable},
                          {"callbacks", couplet::speed::callbacksTable}, {"flat-top", couplet::speed::flatTopTable},
                          {"scatter", couplet::speed::scatterTable},     {"spectrum", couplet::speed::spectrumTable}};

int update(const char* path, const std::string& only)
{
    std::ifstream in(path);
    std::string text((std::istreambuf_iterator<char>(in)), {});
    for (const Part& part : parts) {
        if (!only.empty() && only != part.mark)
            continue;
        const std::string begin = fmt::format("<!-- {} -->\n", part.mark), end = fmt::format("<!-- /{} -->", part.mark);
        const auto from = text.find(begin), to = text.find(end);
        if (from == std::string::npos || to == std::string::npos) {
            fmt::print(stderr, "{} has no marks for '{}'\n", path, part.mark);
            return EXIT_FAILURE;
        }
        fmt::print("{} ...\n", part.mark);
        text.replace(from + begin.size(), to - from - begin.size(), part.table());
    }
    std::ofstream out(path);
    out << text;
    return out.flush() ? EXIT_SUCCESS : EXIT_FAILURE;
}

} // namespace

int main(int count, char** arguments)
{
    const std::string first = count > 1 ? arguments[1] : "";
    if (first == "--update" && (count == 3 || count == 4))
        return update(arguments[2], count == 4 ? arguments[3] : "");
    if (first == "--stage" && count == 4)
        return couplet::speed::runStage(arguments[2], std::atoi(arguments[3])) ? EXIT_SUCCESS : EXIT_FAILURE;
    for (const Part& part : parts)
        fmt::print("{}\n", part.table());
    return EXIT_SUCCESS;
}
