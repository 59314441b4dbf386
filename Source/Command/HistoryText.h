// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Bench/QuickCheck.h"
#include "Bench/ReferenceHistory.h"
#include "Library/Json.h"

#include <string>

// Purpose: a coupler's history and a quick check as text and JSON.
// Units:   as each field's name says.
// Thread:  any but audio.
namespace couplet {

std::string textOf(const ReferenceHistory&, const std::string& coupler);
JsonObject jsonOf(const ReferenceHistory&, const std::string& coupler);

std::string textOf(const QuickCheck&, const std::string& coupler);
JsonObject jsonOf(const QuickCheck&);

} // namespace couplet
