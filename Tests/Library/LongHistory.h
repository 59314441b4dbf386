// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Scratch.h"

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

// Purpose: couplers with more references than one file holds.
namespace couplet::tests {

// Some 1 kB each, an hour apart from 2020 on.
Reference longReference(std::size_t number);
Coupler longCoupler(const std::string& name, std::size_t references);

// The files of older references in a library's folder, sorted.
std::vector<std::filesystem::path> historyFilesIn(const std::filesystem::path&);
std::filesystem::path ownFileIn(const std::filesystem::path&); // the one item's file
std::uintmax_t largestFileIn(const std::filesystem::path&);

} // namespace couplet::tests
