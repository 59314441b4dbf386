// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/Reading.h"
#include "Bench/ReferenceTaking.h"

#include <string>

// Purpose: readings and references as a person reads them in a terminal: the sum, its uncertainty, the verdict.
// Thread:  any but audio.
namespace couplet {

std::string textOf(const Reading&);
std::string textOf(const ReferenceOutcome&, const std::string& coupler);

// One line: "earphone S, left   measured 93.97 ±0.53   expected 93.86 ±1.00   difference +0.11   agrees   dB SPL".
std::string lineOf(const Reading&);

// A level with its uncertainty, "93.97 ±0.53", or without one.
std::string withUncertainty(double level_dB, const std::optional<Expanded>&);

// "agrees", "agrees; no proof", "cannot be judged", ...
std::string verdictOf(const Reading&);

} // namespace couplet
