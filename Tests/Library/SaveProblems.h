// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/FileName.h"
#include "Library/Folder.h"
#include "Library/Scratch.h"

#include <optional>
#include <string>

// Purpose: what a library holds before and after each kind of save, and what is wrong when it does not: a sentence, empty
//          when all is well. `done`: the save was reported as done.
namespace couplet::tests::scenarios {

extern const std::string firstReading, nextReading;
extern const Coupler older, before, after; // of one coupler, "c"

Coupler coupler(const std::string& name, const std::string& serial);
Coupler another(const std::string& name); // beside it

template <class T> std::optional<T> itemIn(const Folder& folder, const std::string& name)
{
    for (const auto& item : folder.list().items)
        if (const auto* found = std::get_if<T>(&item); found && found->name == name)
            return *found;
    return std::nullopt;
}

extern const Coupler beforeRoll, afterRoll; // the same when its references are too many for one file
std::string saved(const Folder&, bool done);
std::string rolledOver(const Folder&, bool done);
std::string rolledOverFirst(const Folder&, bool done);
std::string savedFirst(const Folder&, bool done);
std::string savedIntoNothing(const Folder&, bool done);
std::string removed(const Folder&, bool done);
std::string versionPutBack(const Folder&, bool done);
std::string read(const Folder&, bool done);
std::string readFirst(const Folder&, bool done);
std::string renamed(const Folder&, bool done);
std::string copied(const Folder&, bool done);
std::string putBack(const Folder&, bool done);
std::string imported(const Folder&, bool done);
std::string madeWay(const Folder&, bool done);
std::string started(const Folder&, bool done);
std::string exported(const Folder&, bool done);

} // namespace couplet::tests::scenarios
