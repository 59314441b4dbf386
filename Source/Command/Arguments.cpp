// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Arguments.h"

#include "Library/NearNames.h"
#include "Library/Utf8.h"
#include "Quantities/QuantityText.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace couplet {
namespace {

constexpr int mostChannels = 65535; // what a take's header can hold

std::string joined(const std::vector<std::string>& parts, const char* between)
{
    std::string text;
    for (const auto& part : parts)
        text.append(text.empty() ? "" : between).append(part);
    return text;
}

Fault unknownOption(const VerbSpec& verb, const std::string& written)
{
    const auto bare = written.substr(std::min(written.find_first_not_of('-'), written.size()));
    auto near = nearNames(bare, verb.optionNames());
    for (auto& name : near)
        name.insert(0, "--");
    const auto mend =
        near.empty() ? fmt::format("'couplet {} --help' lists them", verb.name) : "near: " + joined(near, ", ");
    return {fmt::format("{} has no option {}; {}", verb.name, onOneLine(written), mend)};
}

Fault tooFewWords(const VerbSpec& verb, std::size_t count)
{
    return {fmt::format("{} needs {}; write it behind the verb, for example '{}'", verb.name, verb.words[count],
                        verb.example.front())};
}

Fault tooManyWords(const VerbSpec& verb, const std::string& extra)
{
    const auto takes = verb.words.empty()       ? std::string("no word of its own,")
                       : verb.words.size() == 1 ? fmt::format("one word, {},", verb.words.front())
                                                : fmt::format("at most {} words,", verb.words.size());
    return {fmt::format("{} takes {} and {} is one too many; put a name with spaces in quotes", verb.name, takes,
                        inQuotes(extra))};
}

} // namespace

Outcome<Arguments> Arguments::from(const VerbSpec& verb, const std::vector<std::string>& line)
{
    Arguments arguments;
    bool onlyWords = false;
    for (auto word = line.begin(); word != line.end(); ++word) {
        if (!onlyWords && *word == "--")
            onlyWords = true;
        else if (!onlyWords && word->size() > 1 && word->front() == '-') {
            if (const auto taken = arguments.takeOption(verb, word, line.end()); !taken)
                return taken.fault();
        }
        else if (arguments.positional.size() == verb.words.size())
            return tooManyWords(verb, *word);
        else
            arguments.positional.push_back(*word);
    }
    if (arguments.positional.size() < verb.wordsNeeded)
        return tooFewWords(verb, arguments.positional.size());
    return arguments;
}

// Leaves `word` at the last word that belongs to the option.
Outcome<Done> Arguments::takeOption(const VerbSpec& verb, Word& word, Word end)
{
    const auto equals = word->find('=');
    const auto head = word->substr(0, equals);
    const auto* option = head.starts_with("--") ? verb.option(std::string_view(head).substr(2)) : nullptr;
    if (!option)
        return unknownOption(verb, head);
    const auto name = option->name;
    if (has(name))
        return Fault{fmt::format("--{} is given twice; leave one out", name)};
    const bool isSwitch = option->value.empty();
    const bool hasValue = equals != std::string::npos;
    if (isSwitch && hasValue)
        return Fault{fmt::format("--{} takes no value; write --{} alone", name, name)};
    std::string text;
    if (hasValue)
        text = word->substr(equals + 1);
    else if (!isSwitch) {
        if (std::next(word) == end || std::next(word)->starts_with("--"))
            return Fault{fmt::format("--{} has no value; write it like {}", name, optionText(*option))};
        text = *++word;
    }
    if (!isSwitch && text.empty())
        return Fault{fmt::format("--{} has an empty value; write it like {}", name, optionText(*option))};
    given.emplace(name, std::move(text));
    return Done{};
}

const std::string* Arguments::value(std::string_view option) const
{
    const auto found = given.find(option);
    return found == given.end() ? nullptr : &found->second;
}

Outcome<std::optional<int>> Arguments::channel(std::string_view option) const
{
    const auto* text = value(option);
    if (!text)
        return std::optional<int>();
    int number = 0;
    const auto* end = text->data() + text->size();
    const auto [rest, error] = std::from_chars(text->data(), end, number);
    if (error != std::errc() || rest != end || number < 1 || number > mostChannels)
        return refusal(option, {fmt::format("{} is no channel; write a whole number from 1", quoted(*text))});
    return std::optional<int>(number);
}

Fault Arguments::refusal(std::string_view option, const Fault& fault)
{
    return {fmt::format("--{}: {}", option, fault.sentence)};
}

} // namespace couplet
