// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <string>
#include <string_view>
#include <vector>

// Purpose: a whole library as one JSON file, to be carried to another computer:
//          {"kind": "couplet library", "version": 1, "items": [...]}, each item as its own file has it.
// Ranges:  at most 64 MB, and one item alone at most 4 MB, as every file of a library. Histories are in it whole.
// Errors:  one sentence: the file, the place in it, the mend.
// Thread:  any but audio.
namespace couplet {

Outcome<std::string> bundleTextOf(const std::vector<Item>&);

// The items of such a text, or the one item that it is.
Outcome<std::vector<Item>> itemsFrom(std::string_view text, const std::string& where);
Outcome<std::vector<Item>> readItems(const std::filesystem::path&);

// A coupler, and with it the calibrators of the library that its references or its correction name, so that it
// can be used elsewhere. Its response table is in it.
std::vector<Item> withWhatItNeeds(const Folder::Listing&, const Coupler&);

struct Plan
{
    std::vector<Item> toSave;
    std::vector<Item> alreadyThere; // the same to the last digit
};

// What saving these items would do, found before the first is saved: a fault when one of them would replace something
// else, or could not be saved.
Outcome<Plan> planToSave(const Folder&, const std::vector<Item>&, const std::string& where);

} // namespace couplet
