// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Utf8.h"

#include <fmt/format.h>

namespace couplet {
namespace {

// Bytes that follow a leading byte, and the least character that may be written with so many (no overlong
// forms).
struct Lead
{
    unsigned followers;
    char32_t firstBits;
    char32_t least;
};

std::optional<Lead> leadOf(unsigned char byte)
{
    if (byte < 0x80)
        return Lead{0, byte, 0};
    if ((byte & 0xE0) == 0xC0)
        return Lead{1, byte & 0x1Fu, 0x80};
    if ((byte & 0xF0) == 0xE0)
        return Lead{2, byte & 0x0Fu, 0x800};
    if ((byte & 0xF8) == 0xF0)
        return Lead{3, byte & 0x07u, 0x10000};
    return std::nullopt;
}

} // namespace

std::optional<char32_t> nextCharacter(std::string_view text, std::size_t& at)
{
    const auto lead = leadOf(static_cast<unsigned char>(text[at]));
    if (!lead || text.size() - at <= lead->followers)
        return std::nullopt;
    char32_t character = lead->firstBits;
    for (unsigned i = 1; i <= lead->followers; ++i) {
        const auto byte = static_cast<unsigned char>(text[at + i]);
        if ((byte & 0xC0) != 0x80)
            return std::nullopt;
        character = (character << 6) | (byte & 0x3Fu);
    }
    const bool surrogate = character >= 0xD800 && character <= 0xDFFF;
    if (character < lead->least || surrogate || character > 0x10FFFF)
        return std::nullopt;
    at += lead->followers + 1;
    return character;
}

std::optional<std::u32string> charactersOf(std::string_view text)
{
    std::u32string characters;
    characters.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const auto character = nextCharacter(text, at);
        if (!character)
            return std::nullopt;
        characters.push_back(*character);
    }
    return characters;
}

void appendCharacter(std::string& text, char32_t character)
{
    const auto put = [&text](char32_t byte) { text.push_back(static_cast<char>(byte)); };
    const auto follower = [](char32_t bits) { return 0x80 | (bits & 0x3F); };
    if (character < 0x80) {
        put(character);
        return;
    }
    if (character < 0x800) {
        put(0xC0 | (character >> 6));
    }
    else {
        if (character < 0x10000) {
            put(0xE0 | (character >> 12));
        }
        else {
            put(0xF0 | (character >> 18));
            put(follower(character >> 12));
        }
        put(follower(character >> 6));
    }
    put(follower(character));
}

std::string onOneLine(std::string_view name)
{
    std::string text;
    for (const char c : name) {
        const auto byte = static_cast<unsigned char>(c);
        text.push_back(byte < 0x20 || byte == 0x7F ? '?' : c);
    }
    return text;
}

std::string inQuotes(std::string_view name)
{
    return fmt::format("'{}'", onOneLine(name));
}

} // namespace couplet
