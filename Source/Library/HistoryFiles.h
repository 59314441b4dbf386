// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

// Purpose: a long history does not stand in the coupler's own file alone: its oldest references move, whole, into files
//          beside it, so that the coupler's file stays small and one more reference costs little.
// Format:  <coupler's file without .json>-<hash of its text>.history, JSON as the library prints it:
//          {"kind": "coupler history", "version": 1, "name": the coupler's when it was written, "references": [...]}.
//          The coupler's file has version 2 then, so that an older Couplet leaves it alone, and names each in
//          `olderReferences`: [{"file", "references": how many, "from", "to": the times of the first and the last}].
// Rules:   such a file is written once and never changed or removed, and only then named by the coupler's file: at every
//          moment each reference is in a file that is named. So a removed coupler, and any version of before, finds its
//          history where it was. What stands in the coupler's own file counts where both have a reference (its being
//          set aside may change); order is the oldest file first, the coupler's own last.
// Ranges:  the coupler's file rolls over above 512 kB and keeps its newest 128 kB of references; 4 MB at most, as all JSON.
// Errors:  a history file that is missing, broken or another's is named with its mend, and the coupler goes on without it.
// Thread:  any but audio.
namespace couplet {

// One reference is the same as another when all but its being set aside is.
bool isSameReference(const Reference&, const Reference&);

// Finds a reference again among many. The vector must outlive it and stay as it is.
class ReferenceIndex
{
public:
    explicit ReferenceIndex(const std::vector<Reference>&);
    const Reference* find(const Reference&) const; // null: none is the same

private:
    std::unordered_multimap<std::size_t, const Reference*> all;
};

// Files of a coupler's older references, and what those that could be read hold.
struct Older
{
    std::vector<OlderReferences> files;
    std::vector<Reference> references;
};

struct HistoryFault
{
    std::filesystem::path file;
    Fault fault;
};

// Reads what the coupler's file names, in `folder`, into the coupler: all its references, and nothing more to be read.
Older joinOlder(Coupler&, const std::filesystem::path& folder, std::vector<HistoryFault>&);

// The references of such a file's text.
Outcome<std::vector<Reference>> historyFrom(std::string_view text, const std::string& where);

// All that can be looked at before the folder is read: references are, as they are written.
Item withoutReferences(Item);

// The text that the item's own file is to have. Where that would be too long, older references are written to a history
// file first, synced. Checked: it is what reading will give again, and not too long to be read.
Outcome<std::string> textForFolder(const Item&, const Older& onDisk, const std::filesystem::path& folder);

// Those that another program added since this coupler was loaded stay in the history, in the order in which they were
// taken; of one that both know, the copy being saved counts.
void keepHistory(Coupler&, const Coupler& onDisk);

} // namespace couplet
