// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"

#include <optional>
#include <string>
#include <string_view>

// Purpose: JSON's tokens, one after the other, each for itself held against RFC 8259 (sections 6 and 7). What stands
//          between them is the parser's.
// Errors:  the first is kept; whoever asks for a token gets nothing from then on.
// Thread:  any but audio.
namespace couplet {

class JsonTokens
{
public:
    // `where` names the file in a fault and must outlive this.
    JsonTokens(std::string_view text, const std::string& where);

    // The next character that is no blank, still there; 0 at the end.
    char next();
    void skip() { ++at; }

    std::optional<double> number();      // at a digit or '-'
    std::optional<std::string> string(); // at '"'
    std::string_view word();             // at a letter: all letters that follow

    void refuse(const std::string& what); // with the line
    bool isRefused() const { return first.has_value(); }
    const Fault& fault() const { return *first; }

    static bool beginsNumber(char c) { return c == '-' || (c >= '0' && c <= '9'); }
    static bool isLetter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

private:
    std::string_view text;
    const std::string& where;
    std::size_t at = 0;
    int line = 1;
    std::optional<Fault> first;

    void character(std::string& content);
    void escape(std::string& content);
    std::optional<char32_t> hexUnit();
    void codeUnit(char32_t unit, std::string& content);
};

} // namespace couplet
