// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"

#include <string>
#include <vector>

// Purpose: which of a reading's notes stand under which sum: under the one they keep from being a whole figure. What
//          holds for every reading stands under none, only in the list of all: it would hide what is new.
// Thread:  any but audio.
namespace couplet {

struct SidedNotes
{
    std::vector<std::string> measured, expected, standing;
    std::size_t underSums() const { return measured.size() + expected.size(); }
};

SidedNotes sidedNotes(const LiveView&);

} // namespace couplet
