// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Json.h"
#include "Library/JsonTokens.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace couplet {
namespace {

// Whether a name stands in an object twice: by looking through a few, by a set where there are many, so that a file
// of nothing but names takes no longer than any other of its size.
class Names
{
public:
    bool add(const JsonObject& before, const std::string& name)
    {
        constexpr std::size_t few = 32;
        if (before.size() < few)
            return std::none_of(before.begin(), before.end(), [&](const auto& field) { return field.first == name; });
        if (many.empty())
            for (const auto& field : before)
                many.insert(field.first);
        return many.insert(name).second;
    }

private:
    std::set<std::string> many;
};

class Parser
{
public:
    Parser(std::string_view text, const std::string& w) : tokens(text, w), where(w) {}

    Outcome<JsonValue> run()
    {
        const char c = tokens.next();
        if (c == '\0')
            return Fault{where + ": it is empty; take it away or bring a whole copy"};
        if (c != '{')
            tokens.refuse("it must start with '{'; it is no file of this library");
        JsonValue root = object();
        if (tokens.next() != '\0')
            tokens.refuse("text follows the closing '}'; take it out");
        if (tokens.isRefused())
            return tokens.fault();
        return root;
    }

private:
    JsonTokens tokens;
    const std::string& where;
    std::size_t depth = 0;

    JsonValue value(char closing)
    {
        const char c = tokens.next();
        if (c == '{')
            return object();
        if (c == '[')
            return list();
        if (c == '"')
            return tokens.string().value_or(std::string());
        if (JsonTokens::beginsNumber(c))
            return tokens.number().value_or(0.0);
        if (JsonTokens::isLetter(c))
            return word();
        if (c == ',' || c == ':')
            tokens.refuse(fmt::format("a '{}' stands where a value is needed; take it out or write the value", c));
        else
            refuseCharacter(c, closing);
        return {};
    }

    JsonValue word()
    {
        const auto letters = tokens.word();
        if (letters == "true" || letters == "false")
            return letters == "true";
        if (letters != "null")
            refuseWord(letters);
        return {};
    }

    void refuseWord(std::string_view letters)
    {
        tokens.refuse(fmt::format("{} stands without quotes; put it in double quotes or take it out",
                                  inQuotes(std::string(letters.substr(0, 40)))));
    }

    // One that begins nothing, in a part that ends in `closing`.
    void refuseCharacter(char c, char closing)
    {
        if (c == '\0')
            tokens.refuse(fmt::format("it ends before the '{}' of its last part is closed; bring a whole copy",
                                      closing == '}' ? '{' : '['));
        else if (c == closing)
            tokens.refuse(fmt::format("a value is missing before '{}'; write it", c));
        else if (c == '}' || c == ']')
            tokens.refuse(fmt::format("'{}' stands where '{}' is needed; mend it there", c, closing));
        else if (c == '\'')
            tokens.refuse("text stands in single quotes; use double quotes");
        else
            tokens.refuse("a character stands outside of any quotes; put the text in double quotes or take it out");
    }

    // Past the opening bracket; false when it is nested too deep.
    bool begin()
    {
        if (++depth > deepestJson)
            tokens.refuse(
                fmt::format("it is nested more than {} levels deep; it is no file of this library", deepestJson));
        tokens.skip();
        return !tokens.isRefused();
    }

    // Between two values: true when another follows.
    bool goesOn(char closing)
    {
        const char c = tokens.next();
        if (c == ',' || c == closing)
            tokens.skip();
        else if (c == '"' || c == '{' || c == '[' || JsonTokens::beginsNumber(c) || JsonTokens::isLetter(c))
            tokens.refuse("a comma is missing before this; put it there");
        else if (c == ':')
            tokens.refuse("a ':' stands behind a value; take it out");
        else
            refuseCharacter(c, closing);
        if (c == ',' && tokens.next() == closing)
            tokens.refuse(fmt::format("a comma stands before '{}'; take it out", closing));
        return c == ',' && !tokens.isRefused();
    }

    JsonValue list()
    {
        JsonList items;
        if (!begin())
            return {};
        if (tokens.next() == ']')
            tokens.skip();
        else
            do
                items.push_back(value(']'));
            while (!tokens.isRefused() && goesOn(']'));
        --depth;
        return items;
    }

    JsonValue object()
    {
        JsonObject fields;
        Names names;
        if (!begin())
            return {};
        if (tokens.next() == '}')
            tokens.skip();
        else
            do
                field(fields, names);
            while (!tokens.isRefused() && goesOn('}'));
        --depth;
        return fields;
    }

    void field(JsonObject& fields, Names& names)
    {
        const char c = tokens.next();
        if (c != '"')
            return refuseName(c);
        auto name = tokens.string();
        if (!name)
            return;
        if (!names.add(fields, *name))
            return tokens.refuse(fmt::format("the field {} stands there twice; take one out", inQuotes(*name)));
        const char colon = tokens.next();
        if (colon == '\0')
            return refuseCharacter(colon, '}');
        if (colon != ':')
            return tokens.refuse(fmt::format("no ':' stands behind the field {}; put it there", inQuotes(*name)));
        tokens.skip();
        fields.emplace_back(*std::move(name), value('}'));
    }

    void refuseName(char c)
    {
        if (JsonTokens::isLetter(c))
            refuseWord(tokens.word());
        else if (JsonTokens::beginsNumber(c))
            tokens.refuse("a number stands where a field's name is needed; write decimal points, not commas");
        else if (c == ',' || c == ':' || c == '{' || c == '[')
            tokens.refuse(fmt::format("a '{}' stands where a field's name is needed; take it out", c));
        else
            refuseCharacter(c, '}');
    }
};

} // namespace

Outcome<JsonValue> parsedJson(std::string_view text, const std::string& where, std::size_t most_bytes)
{
    if (text.size() > most_bytes)
        return Fault{
            fmt::format("{}: it is larger than {} MB; it is no file of this library", where, most_bytes >> 20)};
    return Parser(text, where).run();
}

} // namespace couplet
