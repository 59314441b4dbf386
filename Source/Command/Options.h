// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>
#include <vector>

// Purpose: the grammar of the command as a table: which verbs there are, and which words and options each takes. The
//          parser, the help and the tests all read it here. What options ask of one another is each verb's own.
// Thread:  any.
namespace couplet {

struct OptionSpec
{
    std::string_view name;    // without the dashes
    std::string_view value;   // a placeholder or an example; empty: a switch, which takes none
    std::string_view meaning; // for the help
};

struct VerbSpec
{
    std::string_view name;
    std::string_view purpose;              // one sentence
    std::string_view usage;                // what follows the verb, in lines that the help indents
    std::vector<std::string_view> words;   // placeholders of the positional words, in order
    std::size_t wordsNeeded = 0;           // the others may be left out
    std::vector<OptionSpec> options;       // without those that every verb has
    std::vector<std::string_view> example; // lines; the second and later ones are continuations

    const OptionSpec* option(std::string_view wanted) const; // also those that every verb has; null: no such option
    std::vector<std::string> optionNames() const;            // all of them, without the dashes
};

const std::vector<VerbSpec>& verbs(); // in the order of the help
const VerbSpec* verbNamed(std::string_view);
const std::vector<OptionSpec>& optionsOfEveryVerb();

// "--drive 123.2mV", or "--json" for a switch.
std::string optionText(const OptionSpec&);

} // namespace couplet
