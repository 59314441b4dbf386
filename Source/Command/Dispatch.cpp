// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Dispatch.h"

#include "Command/Help.h"
#include "Library/NearNames.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

Outcome<Answer> runReport(const Arguments&)
{
    return Fault{"report is not there yet; 'couplet read TAKE --json' has all that a page would show"};
}

constexpr std::pair<std::string_view, Verb> functions[] = {
    {"demo", runDemo}, {"read", runRead},       {"levels", runLevels}, {"reference", runReference},
    {"fit", runFit},   {"library", runLibrary}, {"report", runReport}};

Verb functionOf(const VerbSpec& verb)
{
    const auto* found =
        std::find_if(std::begin(functions), std::end(functions), [&](const auto& f) { return f.first == verb.name; });
    return found->second;
}

std::string listOf(const std::vector<std::string>& names)
{
    std::string list;
    for (const auto& name : names)
        list += (list.empty() ? "" : ", ") + name;
    return list;
}

Fault unknownVerb(const std::string& written)
{
    std::vector<std::string> names;
    for (const auto& verb : verbs())
        names.emplace_back(verb.name);
    const auto near = nearNames(written, names);
    return {fmt::format("no verb {}; {}: {}", inQuotes(written), near.empty() ? "the verbs are" : "near",
                        listOf(near.empty() ? names : near))};
}

// Also in a call that is otherwise wrong, for that is when it is asked for.
bool asksForHelp(const std::vector<std::string>& line)
{
    const auto end = std::find(line.begin(), line.end(), "--");
    return std::any_of(line.begin(), end, [](const auto& word) { return word == "--help" || word == "-h"; });
}

} // namespace

Outcome<Answer> runCommand(const std::vector<std::string>& words)
{
    if (words.empty())
        return Fault{"no verb is given; 'couplet --help' lists them, and 'couplet demo' shows what they do"};
    const auto& first = words.front();
    if (first == "--help" || first == "-h" || (first == "help" && words.size() == 1))
        return Answer{helpText()};
    if (first == "--version")
        return Answer{"couplet " COUPLET_VERSION "\n"};
    if (first.starts_with('-'))
        return Fault{fmt::format("the verb comes first, and {} is none; 'couplet --help' lists them", inQuotes(first))};
    const auto* verb = verbNamed(first);
    if (!verb)
        return unknownVerb(first);
    const std::vector<std::string> line(words.begin() + 1, words.end());
    if (asksForHelp(line))
        return Answer{helpText(*verb)};
    const auto arguments = Arguments::from(*verb, line);
    return arguments ? functionOf(*verb)(*arguments) : Outcome<Answer>(arguments.fault());
}

} // namespace couplet
