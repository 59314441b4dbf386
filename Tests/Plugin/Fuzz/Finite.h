// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LiveView.h"
#include "Signal/Estimate.h"

#include <string>

// Purpose: is every published number a number? Gives the name of the first that is not; empty: all are.
namespace couplet::fuzz {

std::string notFinite(const Estimate&);
std::string notFinite(const LiveView&);

} // namespace couplet::fuzz
