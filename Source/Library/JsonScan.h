// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"

#include <string>
#include <string_view>

// Purpose: what must hold before JSON goes to a parser that recurses, guesses and overflows: size, depth, UTF-8, and
//          each token for itself. What is left to the parser is the grammar between the tokens.
// Thread:  any but audio.
namespace couplet {

// The same text, line for line, with every number and string in the one form that is read exactly; or a fault
// that names `where`, the line and the mend.
Outcome<std::string> scannedJson(std::string_view text, const std::string& where);

} // namespace couplet
