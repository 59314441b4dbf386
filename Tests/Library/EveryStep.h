// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Scratch.h"

#include <cerrno>
#include <functional>
#include <string>
#include <vector>

// Purpose: a piece of work on a library that is killed, or whose disk fails, at each single call to the system, and what
//          holds after it.
namespace couplet::tests {

inline const std::string firstReading = R"({"level_db": 93.97})", nextReading = R"({"level_db": 94.01})";

Coupler before();
Coupler after();
Coupler newCoupler(); // in a slot that is free

using Work = std::function<Outcome<Done>(const Folder&)>;
using Check = std::function<void(const Folder&, bool done)>;

inline const Work nothing = [](const Folder&) { return Done{}; };

// In a library of `before`, one calibrator "k" and one reading, new for each step. `prepare` is not disturbed.
void survives(const Work&, const Check&, const std::vector<int>& errors = {ENOSPC, EMFILE},
              const Work& prepare = nothing);

// One of the item's versions is this.
bool isAVersion(const Folder&, const std::string& name, const Coupler&);

} // namespace couplet::tests
