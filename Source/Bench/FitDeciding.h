// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/CorrectionFit.h"

#include <string>
#include <vector>

// Purpose: which piece of evidence decides a fit, in words, and which count for little.
// Units:   dB.
// Thread:  any but audio.
namespace couplet {

// "The silicone collar decides; the bare adapter reads high, and counts for little: ...". Two sentences where what
// moves the result lies outside its interval: the first is not to be left out for the length of the second.
std::vector<std::string> decidingSentences(const CorrectionFit&);

std::string listed(const std::vector<std::string>& names); // "a, b and c"
std::string capital(std::string text);                     // begun large

} // namespace couplet
