// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/JsonScan.h"

#include "Library/Json.h"
#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <set>

namespace couplet {
namespace {

bool isDigit(char c)
{
    return c >= '0' && c <= '9';
}

bool isLetter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

// RFC 8259 section 6: -?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?
bool isJsonNumber(std::string_view text)
{
    std::size_t at = 0;
    const auto is = [&](char c) { return at < text.size() && text[at] == c; };
    const auto digits = [&] {
        const auto start = at;
        while (at < text.size() && isDigit(text[at]))
            ++at;
        return at - start;
    };
    at += is('-') ? 1 : 0;
    const bool leadingZero = is('0');
    const auto whole = digits();
    if (whole == 0 || (leadingZero && whole > 1))
        return false;
    if (is('.') && (++at, digits() == 0))
        return false;
    if (is('e') || is('E')) {
        ++at;
        at += is('+') || is('-') ? 1 : 0;
        if (digits() == 0)
            return false;
    }
    return at == text.size();
}

class Scanner
{
public:
    Scanner(std::string_view t, const std::string& w) : text(t), where(w) {}

    Outcome<std::string> run()
    {
        constexpr std::string_view byteOrderMark = "\xEF\xBB\xBF";
        if (text.starts_with(byteOrderMark))
            at = byteOrderMark.size();
        while (!fault && at < text.size())
            token();
        if (!fault && previous == 0)
            fault = Fault{where + ": it is empty; take it away or bring a whole copy"};
        else if (!fault && !open.empty())
            refuse(fmt::format("it ends before the '{}' of its last part is closed; bring a whole copy",
                               open.back().bracket));
        if (fault)
            return *fault;
        return std::move(out);
    }

private:
    struct Level
    {
        char bracket;
        std::set<std::string> names;
    };

    std::string_view text;
    const std::string& where;
    std::size_t at = 0;
    int line = 1;
    std::string out;
    std::vector<Level> open;
    char previous = 0; // first character of the token before; 0: none yet
    std::optional<Fault> fault;

    void refuse(const std::string& what)
    {
        if (!fault)
            fault = Fault{fmt::format("{}, line {}: {}", where, line, what)};
    }

    void token()
    {
        const char c = text[at];
        if (c == ' ' || c == '\t' || c == '\r' || c == '\n') {
            line += c == '\n' ? 1 : 0;
            out += c;
            ++at;
            return;
        }
        if (previous == 0 && c != '{')
            return refuse("it must start with '{'; it is no file of this library");
        if (previous != 0 && open.empty())
            return refuse("text follows the closing '}'; take it out");
        if (c == '{' || c == '[')
            begin(c);
        else if (c == '}' || c == ']')
            end(c);
        else if (c == ',' || c == ':')
            copy(1);
        else if (c == '"')
            string();
        else if (c == '-' || isDigit(c))
            number();
        else if (isLetter(c))
            word();
        else if (c == '\'')
            refuse("text stands in single quotes; use double quotes");
        else
            refuse("a character stands outside of any quotes; put the text in double quotes or take it out");
        previous = c;
    }

    void copy(std::size_t count)
    {
        out += text.substr(at, count);
        at += count;
    }

    void begin(char bracket)
    {
        if (open.size() == deepestJson)
            return refuse(
                fmt::format("it is nested more than {} levels deep; it is no file of this library", deepestJson));
        open.push_back({bracket, {}});
        copy(1);
    }

    void end(char bracket)
    {
        const char expected = open.back().bracket == '{' ? '}' : ']';
        if (bracket != expected)
            return refuse(fmt::format("'{}' stands where '{}' is needed; mend it there", bracket, expected));
        if (previous == ',')
            return refuse(fmt::format("a comma stands before '{}'; take it out", bracket));
        open.pop_back();
        copy(1);
    }

    void number()
    {
        auto size = std::size_t{1};
        while (at + size < text.size() && (isDigit(text[at + size]) || isLetter(text[at + size]) ||
                                           std::string_view(".+-").find(text[at + size]) != std::string_view::npos))
            ++size;
        const auto digits = text.substr(at, size);
        if (!isJsonNumber(digits))
            return refuse(fmt::format("'{}' is no number; write it like -12.5 or 1e-3", digits.substr(0, 40)));
        double value = 0.0;
        if (std::from_chars(digits.data(), digits.data() + digits.size(), value).ec != std::errc{})
            return refuse(fmt::format("the number {} is too large or too small; correct it", digits.substr(0, 40)));
        out += printedNumber(value);
        at += size;
    }

    void word()
    {
        auto size = std::size_t{1};
        while (at + size < text.size() && isLetter(text[at + size]))
            ++size;
        const auto letters = text.substr(at, size);
        if (letters != "true" && letters != "false" && letters != "null")
            return refuse(fmt::format("{} stands without quotes; put it in double quotes or take it out",
                                      inQuotes(letters.substr(0, 40))));
        copy(size);
    }

    void string()
    {
        const bool isName = open.back().bracket == '{' && (previous == '{' || previous == ',');
        std::string content;
        ++at;
        while (!fault && at < text.size() && text[at] != '"')
            character(content);
        if (fault)
            return;
        if (at == text.size())
            return refuse("a text is not closed; bring a whole copy");
        ++at;
        if (isName && !open.back().names.insert(content).second)
            return refuse(fmt::format("the field {} stands there twice; take one out", inQuotes(content)));
        out += printedText(content);
    }

    void character(std::string& content)
    {
        if (text[at] == '\\')
            return escape(content);
        if (text[at] == '\n' || text[at] == '\r')
            return refuse("a text is not closed on its line; close it with a double quote");
        if (static_cast<unsigned char>(text[at]) < 0x20)
            return refuse("a text holds a control character; take it out");
        const auto found = nextCharacter(text, at);
        if (!found)
            return refuse("it is not UTF-8; save it again as UTF-8");
        appendCharacter(content, *found);
    }

    void escape(std::string& content)
    {
        constexpr std::string_view letters = "\"\\/bfnrt", meanings = "\"\\/\b\f\n\r\t";
        const char letter = at + 1 < text.size() ? text[at + 1] : '\0';
        at = std::min(at + 2, text.size());
        if (const auto index = letters.find(letter); letter != '\0' && index != std::string_view::npos)
            content += meanings[index];
        else if (const auto unit = letter == 'u' ? hexUnit() : std::nullopt)
            codeUnit(*unit, content);
        else
            refuse("a backslash stands before something it cannot escape; write it twice");
    }

    std::optional<char32_t> hexUnit()
    {
        if (text.size() - at < 4)
            return std::nullopt;
        unsigned value = 0;
        const auto* start = text.data() + at;
        if (std::from_chars(start, start + 4, value, 16).ptr != start + 4)
            return std::nullopt;
        at += 4;
        return value;
    }

    // Characters beyond U+FFFF are escaped as two units, which JUCE would keep as two broken characters.
    void codeUnit(char32_t unit, std::string& content)
    {
        const auto isHigh = unit >= 0xD800 && unit <= 0xDBFF;
        if (isHigh && text.substr(at, 2) == "\\u") {
            at += 2;
            const auto low = hexUnit();
            if (low && *low >= 0xDC00 && *low <= 0xDFFF)
                return appendCharacter(content, 0x10000 + ((unit - 0xD800) << 10) + (*low - 0xDC00));
        }
        if (unit == 0 || (unit >= 0xD800 && unit <= 0xDFFF))
            return refuse("an escape stands for no character; take it out");
        appendCharacter(content, unit);
    }
};

} // namespace

Outcome<std::string> scannedJson(std::string_view text, const std::string& where)
{
    if (text.size() > largestJson_bytes)
        return Fault{
            fmt::format("{}: it is larger than {} MB; it is no file of this library", where, largestJson_bytes >> 20)};
    return Scanner(text, where).run();
}

} // namespace couplet
