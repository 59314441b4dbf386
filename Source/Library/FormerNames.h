// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/FolderScan.h"

// Purpose: an item from before, in a library whose other items have got other names since.
// Rules:   * Names of earphones, couplers and the calibrator that nothing has now, but an item of that kind had in one
//            of its versions, become the name that it has now.
//          * An earphone goes on naming every coupler whose correction it helped to choose, and a correction that is the
//            present one every earphone: one too many is called no proof, never one too few.
// Thread:  any but audio.
namespace couplet {

// `present` is the item as it stands; null: it was removed.
void followNames(Item&, const Item* present, const FolderContent&, const std::filesystem::path& root);

} // namespace couplet
