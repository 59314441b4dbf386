// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

// Purpose: characters of any script in texts that are kept as UTF-8.
// Source:  RFC 3629 (no overlong forms, no surrogates, nothing above U+10FFFF).
// Thread:  any but audio.
namespace couplet {

// The character that starts at byte `at`, which moves on to the next one; absent (and `at` stays) where the
// bytes are no UTF-8. `at` must be below the text's size.
std::optional<char32_t> nextCharacter(std::string_view text, std::size_t& at);

// All characters; absent when any byte is no UTF-8.
std::optional<std::u32string> charactersOf(std::string_view text);

void appendCharacter(std::string& text, char32_t character);

// A name as a sentence on one line may hold it, control characters shown as '?'; `inQuotes` puts it in single
// quotes.
std::string onOneLine(std::string_view name);
std::string inQuotes(std::string_view name);

} // namespace couplet
