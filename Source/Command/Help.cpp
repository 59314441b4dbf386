// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Help.h"

#include <fmt/format.h>

namespace couplet {
namespace {

constexpr std::size_t columns = 80;
constexpr std::size_t meaningColumn = 30; // a longer option has its meaning on the next line

// `text` broken at spaces, each line after the first indented. ASCII, as the whole help is.
std::string wrapped(std::string_view text, std::size_t indent)
{
    std::string result;
    while (indent + text.size() > columns) {
        const auto cut = text.rfind(' ', columns - indent);
        if (cut == std::string_view::npos)
            break;
        result += std::string(text.substr(0, cut)) + "\n" + std::string(indent, ' ');
        text.remove_prefix(cut + 1);
    }
    return result + std::string(text) + "\n";
}

std::string row(const std::string& head, std::string_view meaning)
{
    const auto fits = head.size() + 4 <= meaningColumn;
    return "  " + head + (fits ? "" : "\n") + std::string(meaningColumn - (fits ? head.size() + 2 : 0), ' ') +
           wrapped(meaning, meaningColumn);
}

std::string rows(const std::vector<OptionSpec>& options)
{
    std::string text;
    for (const auto& option : options)
        text += row(optionText(option), option.meaning);
    return text;
}

std::string usageOf(const VerbSpec& verb)
{
    auto text = fmt::format("couplet {} ", verb.name);
    const std::string indent(text.size(), ' ');
    for (const char c : verb.usage)
        text += c == '\n' ? "\n" + indent : std::string(1, c);
    return text + "\n";
}

std::string exampleOf(const VerbSpec& verb)
{
    std::string text;
    for (const auto& line : verb.example)
        text += (text.empty() ? "  " : " \\\n      ") + std::string(line);
    return text + "\n";
}

} // namespace

std::string helpText()
{
    std::string text = "Couplet, without its window: what a take holds, and what it should hold.\n\n";
    for (const auto& verb : verbs())
        text += row("couplet " + std::string(verb.name), verb.purpose);
    text += "\nEvery verb takes\n" + rows(optionsOfEveryVerb());
    text += row("--version", "instead of a verb: the version");
    return text + "\n"
                  "A TAKE is WAV or AIFF, 8 to 384 kHz, any number of channels.\n"
                  "Quantities carry their unit: 62.4mV, 0.0624V, 1ohm, 0.5%, 98.6kPa.\n"
                  "Voltages are RMS. Uncertainties are expanded (95.45 %), tolerances half-widths.\n"
                  "Exit status: 0 done; 1 done, the answer is no; 2 the call or a file is wrong,\n"
                  "or the answer could not be written.\n"
                  "\n"
                  "Example:\n"
                  "  couplet demo --out demo\n"
                  "\n"
                  "More of a verb: couplet read --help\n";
}

std::string helpText(const VerbSpec& verb)
{
    auto text = usageOf(verb) + "\n" + wrapped(verb.purpose, 0) + "\n";
    if (!verb.options.empty())
        text += "Options\n" + rows(verb.options) + "\n";
    text += "As every verb\n" + rows(optionsOfEveryVerb());
    return text + "\nExample:\n" + exampleOf(verb);
}

} // namespace couplet
