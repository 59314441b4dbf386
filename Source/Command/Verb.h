// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Command/Arguments.h"
#include "Quantities/Outcome.h"

#include <string>

// Purpose: what the command does, one function a verb. A verb computes everything first and answers once, so that a
//          call that fails has said nothing.
// Errors:  a fault is a call or a file that is wrong; an answer that is 'no' is an answer.
// Thread:  message.
namespace couplet {

struct Answer
{
    std::string text; // for standard output, whole, with its last line break
    int status = 0;   // 0 done; 1 done, and the answer is no
};

using Verb = Outcome<Answer> (*)(const Arguments&);

Outcome<Answer> runDemo(const Arguments&);
Outcome<Answer> runRead(const Arguments&);
Outcome<Answer> runLevels(const Arguments&);
Outcome<Answer> runReference(const Arguments&);
Outcome<Answer> runFit(const Arguments&);
Outcome<Answer> runLibrary(const Arguments&);

} // namespace couplet
