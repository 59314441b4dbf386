// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/CorrectionFit.h"

#include <cstddef>
#include <string>

// Purpose: changes to the level of an earphone of a fit, and to the insertions that it is the mean of.
// Units:   dB.
// Ranges:  the level and the reason have been looked at.
// Errors:  a sentence where the change cannot be made, and then nothing is changed; else empty.
// Thread:  any but audio.
namespace couplet {

inline constexpr const char* noSuchEarphone = "that earphone is not there any more";

// A typed level joins the insertions, as if it was read with the drive of those before; without any it is refused.
std::string addEarphoneLevel(FitInput&, std::size_t earphone, double level_dB);

// Of an insertion; without any it is refused.
std::string changeEarphoneLevel(FitInput&, std::size_t earphone, std::size_t insertion, double level_dB);

// Name, levels, tolerance and u as the second has them. A level that is typed is the earphone's whole; one that stays is
// still the mean of its insertions.
void correctWhole(FitEarphone&, const FitEarphone&);

std::string setInsertionAside(FitInput&, std::size_t earphone, std::size_t insertion, const std::string& reason);

} // namespace couplet
