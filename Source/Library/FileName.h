// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <string>

// Purpose: the name of an item's file: `<kind>-<slug>-<hash>.json`. The slug keeps ASCII letters and digits, so that
//          a person finds the file; the hash of the whole name keeps apart what the slug or a file system that
//          ignores case would not. ASCII alone, at most 120 characters: safe wherever a library is copied.
// Thread:  any but audio.
namespace couplet {

std::string fileNameOf(const Item&);

} // namespace couplet
