// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/VersionStore.h"

// Purpose: the name of a version's file, and back: "000012-20260503T120411Z-changed.json".
// Thread:  any.
namespace couplet {

std::string versionName(int number, const std::string& until, Replaced);

// Absent: it is none of ours.
std::optional<VersionFile> versionNamed(const std::filesystem::path&);

} // namespace couplet
