// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"
#include "Library/ItemJson.h"

#include <string>
#include <utility>
#include <vector>

// Purpose: the library's items as a person reads them in a terminal.
// Thread:  any but audio.
namespace couplet {

using TextRow = std::vector<std::string>;

// Columns aligned by characters, two spaces between, no space at a line's end. Beyond ASCII each character counts one.
std::string alignedText(const std::vector<TextRow>&);

std::string summaryOf(const Item&); // what it is, in a few words on one line
std::string detailsOf(const Item&); // all of it, lines of name and value

} // namespace couplet
