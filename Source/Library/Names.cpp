// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/Names.h"

#include "Library/Utf8.h"

#include <utf8proc.h>

#include <cstdlib>
#include <memory>
#include <optional>

namespace couplet {
namespace {

using Text = std::u32string;

constexpr char32_t nonJoiner = 0x200C, joiner = 0x200D;
constexpr char32_t keycap = 0x20E3, blackFlag = 0x1F3F4, cancelTag = 0xE007F;

bool isWithin(char32_t c, char32_t first, char32_t last)
{
    return c >= first && c <= last;
}

utf8proc_category_t categoryOf(char32_t c)
{
    return utf8proc_category(static_cast<utf8proc_int32_t>(c));
}

bool isJoiner(char32_t c)
{
    return c == nonJoiner || c == joiner;
}

// Those of Mongolian letters are among them.
bool isVariationSelector(char32_t c)
{
    return isWithin(c, 0xFE00, 0xFE0F) || isWithin(c, 0xE0100, 0xE01EF) || isWithin(c, 0x180B, 0x180F);
}

bool isTag(char32_t c)
{
    return isWithin(c, 0xE0020, cancelTag);
}

// The Braille blank is one to the eye.
bool isWhite(char32_t c)
{
    const auto category = categoryOf(c);
    return category == UTF8PROC_CATEGORY_ZS || category == UTF8PROC_CATEGORY_ZL || category == UTF8PROC_CATEGORY_ZP ||
           c == 0x2800;
}

// Format characters, but those that are seen (Arabic signs around numbers and the like), and the letters and marks that
// are nothing to the eye: the grapheme joiner, Hangul and Khmer fillers.
// Source: Default_Ignorable_Code_Point and Prepended_Concatenation_Mark of the Unicode Character Database 15, from
// memory.
bool isUnseen(char32_t c)
{
    const bool showsItself = isWithin(c, 0x600, 0x605) || c == 0x6DD || c == 0x70F || isWithin(c, 0x890, 0x891) ||
                             c == 0x8E2 || c == 0x110BD || c == 0x110CD || isWithin(c, 0x13430, 0x1343F);
    const bool fills =
        c == 0x34F || isWithin(c, 0x115F, 0x1160) || isWithin(c, 0x17B4, 0x17B5) || c == 0x3164 || c == 0xFFA0;
    return fills || (categoryOf(c) == UTF8PROC_CATEGORY_CF && !showsItself) || isWithin(c, 0xE0000, 0xE0FFF);
}

bool isPicture(char32_t c)
{
    const auto bounds = utf8proc_get_property(static_cast<utf8proc_int32_t>(c))->boundclass;
    return bounds == UTF8PROC_BOUNDCLASS_EXTENDED_PICTOGRAPHIC;
}

// A picture or another sign beyond ASCII, of which there may be two shapes.
bool isSign(char32_t c)
{
    const auto category = categoryOf(c);
    const bool isSymbol = category >= UTF8PROC_CATEGORY_SM && category <= UTF8PROC_CATEGORY_SO;
    return isPicture(c) || (isSymbol && c >= 0x80);
}

bool changesPicture(char32_t c) // the tones of skin, and what chooses the picture
{
    return isWithin(c, 0x1F3FB, 0x1F3FF) || isWithin(c, 0xFE00, 0xFE0F);
}

// A letter or its mark of a script whose letters joiners and selectors shape: not of Latin, Greek, Cyrillic, Armenian
// and Hebrew.
bool isShaped(char32_t c)
{
    const auto category = categoryOf(c);
    const bool isLetter = category >= UTF8PROC_CATEGORY_LU && category <= UTF8PROC_CATEGORY_ME;
    return isLetter && c >= 0x600 && !isWithin(c, 0x1D00, 0x2DFF) && !isWithin(c, 0xA640, 0xA7FF) &&
           !isWithin(c, 0xFB00, 0xFB4F) && !isVariationSelector(c);
}

// Whether the picture before `at`, with what changes it, is one that a joiner may follow.
bool followsPicture(const Text& text, std::size_t at)
{
    while (at > 0 && changesPicture(text[at - 1]))
        --at;
    return at > 0 && isPicture(text[at - 1]);
}

bool joinsPictures(const Text& text, std::size_t at)
{
    return text[at] == joiner && at + 1 < text.size() && isPicture(text[at + 1]) && followsPicture(text, at);
}

// The letters in a flag of a part of a country.
bool isFlagsTag(const Text& text, std::size_t at)
{
    while (at > 0 && isTag(text[at - 1]))
        --at;
    return at > 0 && text[at - 1] == blackFlag;
}

bool isKept(const Text& text, std::size_t at)
{
    const char32_t c = text[at];
    const char32_t before = at > 0 ? text[at - 1] : U'\0';
    if (isJoiner(c))
        return isShaped(before) || joinsPictures(text, at);
    if (isVariationSelector(c))
        return isShaped(before) || isSign(before) || (at + 1 < text.size() && text[at + 1] == keycap && before > U' ');
    if (isTag(c))
        return isFlagsTag(text, at);
    return !isUnseen(c);
}

std::string bytesOf(const Text& text)
{
    std::string bytes;
    for (const char32_t c : text)
        appendCharacter(bytes, c);
    return bytes;
}

// Normal form C.
Text composed(const Text& text)
{
    const auto bytes = bytesOf(text);
    utf8proc_uint8_t* made = nullptr;
    const auto length = utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(bytes.data()),
                                     static_cast<utf8proc_ssize_t>(bytes.size()), &made,
                                     static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_COMPOSE));
    const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> owner(made, &std::free);
    if (length < 0) // no memory
        return text;
    return charactersOf({reinterpret_cast<const char*>(made), static_cast<std::size_t>(length)}).value_or(text);
}

// Without what nobody sees, blanks made one, none at the ends.
Text tidied(const Text& text)
{
    Text result;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (isWhite(text[i])) {
            if (!result.empty() && result.back() != U' ')
                result += U' ';
        }
        else if (isKept(text, i))
            result += text[i];
    }
    while (!result.empty() && result.back() == U' ')
        result.pop_back();
    return result;
}

// Taking one character out may bring others together that make one.
template <class Step> Text untilItStays(Text text, Step step)
{
    for (Text next = step(text); next != text; next = step(text))
        text = std::move(next);
    return text;
}

Text kept(const Text& text)
{
    return untilItStays(text, [](const Text& t) { return tidied(composed(t)); });
}

// What is left to look at.
Text seen(const Text& text)
{
    Text result;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char32_t c = text[i];
        if (isVariationSelector(c) || (isJoiner(c) && !joinsPictures(text, i)))
            continue;
        const bool isHyphen = c == 0x2010 || c == 0x2011;
        result += isHyphen ? U'-' : c == 0xB5 ? char32_t{0x3BC} : c;
    }
    return result;
}

// Most names: nothing to do.
bool isPlain(std::string_view name)
{
    const auto isSeen = [](char c) { return c > ' ' && c < '\x7F'; };
    for (std::size_t i = 0; i < name.size(); ++i) {
        const bool isBlankWithin = name[i] == ' ' && i > 0 && i + 1 < name.size() && name[i + 1] != ' ';
        if (!isSeen(name[i]) && !isBlankWithin)
            return false;
    }
    return true;
}

} // namespace

std::string keptName(std::string_view written)
{
    const auto characters = isPlain(written) ? std::nullopt : charactersOf(written);
    return characters ? bytesOf(kept(*characters)) : std::string(written);
}

std::string lookOf(std::string_view name)
{
    const auto characters = isPlain(name) ? std::nullopt : charactersOf(name);
    if (!characters)
        return std::string(name);
    return bytesOf(untilItStays(*characters, [](const Text& t) { return seen(kept(t)); }));
}

bool lookTheSame(std::string_view a, std::string_view b)
{
    return a == b || (!(isPlain(a) && isPlain(b)) && lookOf(a) == lookOf(b));
}

} // namespace couplet
