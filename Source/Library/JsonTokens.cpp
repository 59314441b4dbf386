// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/JsonTokens.h"

#include "Library/Utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace couplet {
namespace {

bool isDigit(char c)
{
    return c >= '0' && c <= '9';
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

// What stands for itself in a string: ASCII without control characters, quote and backslash.
bool isPlain(char c)
{
    return static_cast<unsigned char>(c) >= 0x20 && static_cast<unsigned char>(c) < 0x80 && c != '"' && c != '\\';
}

} // namespace

JsonTokens::JsonTokens(std::string_view t, const std::string& w) : text(t), where(w)
{
    constexpr std::string_view byteOrderMark = "\xEF\xBB\xBF";
    if (text.starts_with(byteOrderMark))
        at = byteOrderMark.size();
}

void JsonTokens::refuse(const std::string& what)
{
    if (!first)
        first = Fault{fmt::format("{}, line {}: {}", where, line, what)};
}

char JsonTokens::next()
{
    for (; at < text.size(); ++at) {
        const char c = text[at];
        if (c != ' ' && c != '\t' && c != '\r' && c != '\n')
            return first ? '\0' : c == '\0' ? '\x01' : c; // a character 0 is not the end
        line += c == '\n' ? 1 : 0;
    }
    return '\0';
}

std::optional<double> JsonTokens::number()
{
    auto size = std::size_t{1};
    while (at + size < text.size() && (isDigit(text[at + size]) || isLetter(text[at + size]) ||
                                       std::string_view(".+-").find(text[at + size]) != std::string_view::npos))
        ++size;
    const auto digits = text.substr(at, size);
    at += size;
    double value = 0.0;
    if (!isJsonNumber(digits))
        refuse(fmt::format("'{}' is no number; write it like -12.5 or 1e-3", digits.substr(0, 40)));
    else if (std::from_chars(digits.data(), digits.data() + digits.size(), value).ec != std::errc{})
        refuse(fmt::format("the number {} is too large or too small; correct it", digits.substr(0, 40)));
    return first ? std::nullopt : std::optional(value);
}

std::string_view JsonTokens::word()
{
    auto size = std::size_t{1};
    while (at + size < text.size() && isLetter(text[at + size]))
        ++size;
    at += size;
    return text.substr(at - size, size);
}

std::optional<std::string> JsonTokens::string()
{
    std::string content;
    ++at;
    while (!first && at < text.size() && text[at] != '"') {
        const auto start = at;
        while (at < text.size() && isPlain(text[at]))
            ++at;
        content += text.substr(start, at - start);
        if (at < text.size() && text[at] != '"')
            character(content);
    }
    if (at == text.size())
        refuse("a text is not closed; bring a whole copy");
    if (first)
        return std::nullopt;
    ++at;
    return content;
}

void JsonTokens::character(std::string& content)
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

void JsonTokens::escape(std::string& content)
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

std::optional<char32_t> JsonTokens::hexUnit()
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

// Characters beyond U+FFFF are escaped as two units.
void JsonTokens::codeUnit(char32_t unit, std::string& content)
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

} // namespace couplet
