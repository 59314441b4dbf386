// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/ReferenceHistory.h"

#include <string>

// Purpose: a coupler's history as CSV.
// Shapes:  after RFC 4180 with a header line, a decimal point, empty fields for what cannot be had. What a spreadsheet
//          would take for a formula it gets as text.
// Units:   as each field's name says.
// Thread:  any but audio.
namespace couplet {

std::string csvOf(const ReferenceHistory&);

} // namespace couplet
