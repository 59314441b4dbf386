// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

// Purpose: what a person may have meant by a name that is not there.
// Thread:  any but audio.
namespace couplet {

// At most three of `names`, nearest first: those that differ in a few letters (insertions, deletions,
// exchanges, neighbours swapped), whatever their case, or hold `wanted` as a part.
std::vector<std::string> nearNames(const std::string& wanted, const std::vector<std::string>& names);

} // namespace couplet
