// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/FitWords.h"
#include "Metrology/WhatIf.h"

#include <string>

// Purpose: a fit as a person reads it in a terminal.
// Thread:  any but audio.
namespace couplet {

std::string textOf(const CorrectionFit&, const FitWords&);

// What more readings would do for a wanted U, one line a group.
std::string textOf(const CorrectionFit&, const MoreReadings&, double wantedU_dB);

} // namespace couplet
