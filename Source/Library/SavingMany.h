// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

// Purpose: many items saved into a library at once, as an import does: each as `Folder::save` would, at the cost of one
//          look at the folder for hundreds of them and of few waits for the disk.
// Rules:   * Each item is there whole or not at all at every moment, and the same call takes the rest after a crash.
//            When it has returned without a fault, all of them last through a power cut.
//          * The folder's lock is let go of every 1.5 s or so, that others can save meanwhile. In a library so large that a
//            look at it takes longer than half of that, it is held for two looks, so that looking never costs more than
//            saving.
// Errors:  the first fault ends it; what was saved before stays.
// Thread:  any but audio (waits for the folder's lock and the disk).
namespace couplet {

// What becomes of a coupler whose slot another has.
enum class TakenSlot { isRefused, isLeftOut };

struct SavedMany
{
    std::size_t saved = 0;
    std::size_t withoutSlot = 0; // of these, those that left theirs out
    std::optional<Fault> fault;
};

// `reached` hears how many were saved, often.
SavedMany saveMany(const Folder&, const std::vector<Item>&, TakenSlot,
                   const std::function<void(std::size_t saved)>& reached = {});

} // namespace couplet
