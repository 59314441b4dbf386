// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>

// Purpose: names of items as they are kept, and whether two of them look the same.
// Rules:   what is kept is in normal form C, without white space at its ends, with one blank for each run of white
//          space, and without characters that nobody sees: zero widths, soft hyphens, byte order marks, controls of
//          direction. Control characters stay, and are refused where a name is read. Joiners stay where they shape
//          letters (Arabic, Indic and others) or join emoji, variation selectors where they choose a picture.
//          For looking the same, joiners between letters and all variation selectors count as nothing, micro sign and
//          Greek mu as one, and so do the hyphens. Case counts: 'Bench' and 'bench' can be told apart. So do letters of
//          two scripts that look alike (Latin a, Cyrillic a): that would need a table for every pair.
// Source:  Unicode Standard Annex 15 (normal forms) and Technical Standard 39, 4 (default-ignorable characters do not
//          count when names are compared), both from memory; joiners between emoji: Technical Standard 51, from memory.
// Errors:  none; what is no UTF-8 stays as it is and looks like nothing but itself.
// Thread:  any but audio.
namespace couplet {

// As a new item is to be named; may be empty. Given again, it stays.
std::string keptName(std::string_view written);

bool lookTheSame(std::string_view, std::string_view);

// What all names that look the same have in common: for sorting and sets, not to be shown.
std::string lookOf(std::string_view name);

} // namespace couplet
