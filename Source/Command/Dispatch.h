// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Command/Verb.h"

#include <string>
#include <vector>

// Purpose: one call of the command, from its words to its answer, without the process around it.
// Errors:  as the verbs'; a verb that is unknown, or not there yet.
// Thread:  message.
namespace couplet {

// `words` as typed, without the program's own name.
Outcome<Answer> runCommand(const std::vector<std::string>& words);

} // namespace couplet
