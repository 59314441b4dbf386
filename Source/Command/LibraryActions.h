// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Command/Verb.h"
#include "Library/Folder.h"
#include "Library/Json.h"

#include <optional>
#include <string>
#include <vector>

// Purpose: the actions of the verb `library` that change what is there, and how it answers for every one.
// Thread:  message.
namespace couplet {

// What follows the action.
struct LibraryCall
{
    std::string first, second;
    std::string only;                   // --only; empty: not given
    std::optional<std::string> version; // --version
    bool asJson = false;
};

Outcome<Answer> addPresets(const Folder&, const LibraryCall&);
Outcome<Answer> removeItem(const Folder&, const LibraryCall&);
Outcome<Answer> putItemBack(const Folder&, const LibraryCall&);
Outcome<Answer> putVersionBack(const Folder&, const LibraryCall&); // with --version
Outcome<Answer> listVersions(const Folder&, const LibraryCall&);
Outcome<Answer> renameItem(const Folder&, const LibraryCall&);
Outcome<Answer> copyItem(const Folder&, const LibraryCall&);

// What was done to which items, as text or JSON.
Answer reportOf(bool asJson, const char* what, const std::vector<Item>&, JsonList notes);
std::string jsonLine(const JsonValue&);

} // namespace couplet
