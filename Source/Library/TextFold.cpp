// SPDX-License-Identifier: GPL-3.0-or-later
#include "Library/TextFold.h"

#include "Library/Utf8.h"

#include <array>
#include <utility>

namespace couplet {
namespace {

// The letter below the accents; a dot: none, it stays. Capitals: two letters, below.
// Source: Unicode Character Database 14, decompositions; those that it does not decompose (o with stroke) by their
// look.
constexpr std::string_view from00C0 = //
    "aaaaaaAceeeeiiiidnooooo.ouuuuyTSaaaaaaAceeeeiiiidnooooo.ouuuuyTyaaaaaaccccccccddddeeeeeeeeeegggg"
    "gggghhhhiiiiiiiiiiIIjjkkkllllllllllnnnnnn.nnooooooOOrrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs"
    "bb.....cc..dd....ff....ikkl...n.oo..pp......tt.uu..yyzz.............dddlllnnnaaiioouuuuuuuuuu.aa"
    "aaAAggggkkoooo..jdddgg..nnaaAAooaaaaeeeeiiiioooorrrruuuusstt..hhn...zzaaeeooooooooyy.......ccl.."
    "...b..eejj..rryy";
constexpr std::string_view from1E00 = //
    "aabbbbbbccddddddddddeeeeeeeeeeffgghhhhhhhhhhiiiikkkkkkllllllllmmmmmmnnnnnnnnoooooooopppprrrrrrrr"
    "ssssssssssttttttttuuuuuuuuuuvvvvwwwwwwwwwwxxxxyyzzzzzzhtwyasssS.aaaaaaaaaaaaaaaaaaaaaaaaeeeeeeee"
    "eeeeeeeeiiiioooooooooooooooooooooooouuuuuuuuuuuuuuyyyyyyyy....yy";

constexpr std::array<std::pair<char, std::u32string_view>, 5> pairs = {
    {{'A', U"ae"}, {'I', U"ij"}, {'O', U"oe"}, {'S', U"ss"}, {'T', U"th"}}};

bool isWithin(char32_t c, char32_t first, char32_t last)
{
    return c >= first && c <= last;
}

// Greek and Cyrillic; scripts without case need none. Independent of the locale.
char32_t lowered(char32_t c)
{
    if (isWithin(c, U'A', U'Z') || isWithin(c, 0x391, 0x3A9) || isWithin(c, 0x410, 0x42F))
        return c + 0x20;
    return isWithin(c, 0x400, 0x40F) ? c + 0x50 : c;
}

// '.' where there is none.
char letterBelow(char32_t c)
{
    if (isWithin(c, 0xC0, 0xC0 + from00C0.size() - 1))
        return from00C0[c - 0xC0];
    return isWithin(c, 0x1E00, 0x1E00 + from1E00.size() - 1) ? from1E00[c - 0x1E00] : '.';
}

void append(std::u32string& text, char32_t c)
{
    if (isWithin(c, 0x300, 0x36F)) // combining accents
        return;
    const char letter = letterBelow(c);
    if (letter == '.') {
        text += lowered(c);
        return;
    }
    for (const auto& [mark, letters] : pairs)
        if (mark == letter) {
            text += letters;
            return;
        }
    text += static_cast<char32_t>(letter);
}

} // namespace

std::u32string folded(std::string_view text)
{
    std::u32string result;
    for (std::size_t at = 0; at < text.size();)
        if (const auto character = nextCharacter(text, at))
            append(result, *character);
        else
            append(result, static_cast<unsigned char>(text[at++])); // no UTF-8: as if Latin-1
    return result;
}

} // namespace couplet
