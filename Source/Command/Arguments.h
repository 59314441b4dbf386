// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Command/Options.h"
#include "Quantities/Outcome.h"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

// Purpose: one call of a verb, taken apart and held against the verb's grammar: every option here is one of the verb's,
//          given once and with its value. What options ask of one another the verb says.
// Errors:  one sentence that names the option or the word, and the mend.
// Thread:  any (allocates).
namespace couplet {

class Arguments
{
public:
    // `line` is what follows the verb. An option is `--option value` or `--option=value`; a value may begin with a
    // minus sign, but not with two; after `--` everything is a word.
    static Outcome<Arguments> from(const VerbSpec&, const std::vector<std::string>& line);

    const std::vector<std::string>& words() const { return positional; }

    // Options are named without the dashes.
    bool has(std::string_view option) const { return given.find(option) != given.end(); }
    const std::string* value(std::string_view option) const; // null: not given

    // What `parse` makes of the value; absent when the option was not given.
    template <class T>
    Outcome<std::optional<T>> quantity(std::string_view option, Outcome<T> (*parse)(std::string_view)) const
    {
        const auto* text = value(option);
        if (!text)
            return std::optional<T>();
        auto parsed = parse(*text);
        if (!parsed)
            return refusal(option, parsed.fault());
        return std::optional<T>(*std::move(parsed));
    }

    // A channel's number, counted from 1. Whether the take has it, the take knows.
    Outcome<std::optional<int>> channel(std::string_view option) const;

private:
    std::vector<std::string> positional;
    std::map<std::string, std::string, std::less<>> given;

    using Word = std::vector<std::string>::const_iterator;
    Outcome<Done> takeOption(const VerbSpec&, Word& word, Word end);

    static Fault refusal(std::string_view option, const Fault&);
};

} // namespace couplet
