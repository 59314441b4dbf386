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

// Why the reason cannot be one, for it marks something else; empty: it can.
std::string markFault(const std::string& reason);

// A typed level joins the insertions, as if it was read with the drive of the newest that counts; without any it is
// refused.
std::string addEarphoneLevel(FitInput&, std::size_t earphone, double level_dB);

// Of an insertion; without any it is refused.
std::string changeEarphoneLevel(FitInput&, std::size_t earphone, std::size_t insertion, double level_dB);

// Name, levels, tolerance and u as the second has them. Where one of the levels is typed, both are the earphone's whole;
// else they still follow from its insertions, and so does a u that is taken out.
void correctWhole(FitEarphone&, const FitEarphone&);

std::string setInsertionAside(FitInput&, std::size_t earphone, std::size_t insertion, const std::string& reason);

} // namespace couplet
