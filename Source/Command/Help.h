// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Command/Options.h"

#include <string>

// Purpose: the command explained on a terminal of 80 columns, from the same table that its calls are held against.
// Thread:  any (allocates).
namespace couplet {

std::string helpText();                // all verbs
std::string helpText(const VerbSpec&); // one verb with its options and an example

} // namespace couplet
