// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"

#include <cstddef>
#include <string>
#include <vector>

// Purpose: the rows of a view that a search lets through, the best first (Library/ItemSearch.h); an empty one lets all
//          through, in their order. The slot is the session's.
// Thread:  message.
namespace couplet {

std::vector<std::size_t> couplersFound(const std::string& query, const LibraryView&);

} // namespace couplet
