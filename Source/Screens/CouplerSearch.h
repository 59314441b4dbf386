// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"

#include <cstddef>
#include <string>
#include <vector>

// Purpose: the rows of a view that a search lets through, in their order: each of its words stands in the name, the
//          kind, the serial, the microphone or the input. An empty search lets all through.
// Thread:  message.
namespace couplet {

std::vector<std::size_t> couplersFound(const std::string& query, const LibraryView&);

} // namespace couplet
