// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"

#include <string>
#include <vector>

// Purpose: libraries and sessions of every state that the chooser and the question between the two have to show.
namespace couplet {

struct NamedLibrary
{
    std::string name;
    LibraryView view;
    std::string search; // typed into it
};

LibraryView fiveCouplers();
LibraryView manyCouplers(std::size_t count);
std::vector<NamedLibrary> libraryStates();

// Of the first of the five couplers: a few, twenty with long words, none, some that cannot be read; absent: being read.
struct NamedVersions
{
    std::string name;
    std::optional<VersionsView> versions;
};
std::vector<NamedVersions> versionStates();
LibraryView withVersions(LibraryView, const std::optional<VersionsView>&);

// The three forms of the question, and one with everything different.
std::vector<NamedLibrary> conflictStates();

} // namespace couplet
