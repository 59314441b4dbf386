// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Calibrator.h"
#include "Library/Coupler.h"
#include "Library/DriveSource.h"
#include "Library/Earphone.h"
#include "Library/Json.h"
#include "Quantities/Outcome.h"

#include <filesystem>
#include <map>
#include <string>
#include <utility>
#include <variant>
#include <vector>

// Purpose: the library's folder: one small JSON file an item, files for a long history's older references beside it
//          (HistoryFiles.h), and `readings.jsonl`.
// Errors:  every fault is one sentence that names the file, the place in it and the mend. A file that cannot be read
//          is never overwritten, and the rest of the library goes on working.
// Thread:  any but audio; several processes may share the folder (a lock file around each save).
namespace couplet {

using Item = std::variant<Coupler, Calibrator, Earphone, DriveSource>;

const std::string& nameOf(const Item&);
std::string kindOf(const Item&); // "coupler", "calibrator", "earphone", "drive source"

// The item of that kind and name, else the only one whose name looks the same.
const Item* itemNamed(const std::vector<Item>&, const std::string& kind, const std::string& name);

// The same for many names; the items must outlive it.
class ItemsByName
{
public:
    explicit ItemsByName(const std::vector<Item>&);
    const Item* find(const Item& like) const;

private:
    std::multimap<std::pair<std::size_t, std::string>, const Item*> looks;
};

// JSON text of an item, sorted and stable, and back. `where` names the file in a fault.
std::string textOf(const Item&);
Outcome<Item> itemFrom(std::string_view text, const std::string& where, std::size_t most_bytes = largestJson_bytes);

class Folder
{
public:
    explicit Folder(std::filesystem::path);

    // $COUPLET_LIBRARY, else $XDG_DATA_HOME/Couplet, else ~/.local/share/Couplet.
    static std::filesystem::path defaultPath();

    const std::filesystem::path& path() const { return root; }

    struct Listing
    {
        std::vector<Item> items;       // by kind, then name
        std::vector<Fault> unreadable; // one for each file that could not be read
        std::vector<Fault> lookAlikes; // one for each item whose name looks like one before it; all of them work
    };
    // A folder that does not exist yet is an empty library.
    Listing list() const;

    // By name, as it stands, else the one whose name looks the same (Names.h); a fault lists near names, or the files of
    // several that look the same. `nameAndKind` here and below is a name, "earphone bench" where two kinds share one, or
    // the name of the item's file.
    Outcome<Coupler> coupler(const std::string& name) const;
    Outcome<Calibrator> calibrator(const std::string& name) const;
    Outcome<Earphone> earphone(const std::string& name) const;
    Outcome<Item> find(const std::string& nameAndKind) const;
    bool holdsCoupler(const std::string& name) const;

    // Writes a sibling, checks every write, syncs, reads back, renames over; the version before stays as `.bak`.
    // A new item's name is kept as `keptName` makes it; one whose name looks the same is that item, and two that look the
    // same are a fault. An item of the same kind and name is replaced, but a coupler's references are never lost: those on disk that
    // the given one lacks join it. Refused: a slot that another coupler has, what could not be read again (a figure
    // that is not finite), and a file there that cannot be read. The folder is made when missing.
    Outcome<Done> save(const Item&) const;
    // Moves the item's file to `.bak`, so that it can be had back.
    Outcome<Done> remove(const std::string& nameAndKind) const;
    // Undoes the last removal of that name, from its `.bak`. Refused: a name or a slot that is taken by now.
    Outcome<Done> putBack(const std::string& nameAndKind) const;

    // The item is there under one of the two names at every moment. Backups stay where they are, for under the new name
    // may lie that of an item that was removed. Earphones that chose the correction of a coupler, and corrections that
    // belong to a calibrator, follow the new name; the history keeps what was written. Refused: a name that another
    // item of the kind has.
    Outcome<Done> rename(const std::string& nameAndKind, const std::string& newName) const;
    // "X copy", or "X copy 2"; the name that it got. A copied coupler is another coupler: it has no references and no
    // slot; its correction stays, with where it came from in its origin, and an earphone that took part in choosing
    // it took part in the copy's. A copied calibrator has no serial, no certificate and no figures from it.
    Outcome<std::string> copy(const std::string& nameAndKind) const;

    // One reading a line, appended whole or not at all.
    Outcome<Done> appendReading(const std::string& jsonLine) const;

    // A file from elsewhere, checked as `itemFrom` does, its name as `keptName` makes it.
    static Outcome<Item> readFile(const std::filesystem::path&);
    static Outcome<Done> writeFile(const std::filesystem::path&, const Item&);

private:
    std::filesystem::path root;
};

// Writes `text` to `target` whole or not at all, as `Folder::save` does (without a backup when `keepBackup` is
// false).
Outcome<Done> replaceFile(const std::filesystem::path& target, std::string_view text, bool keepBackup);

} // namespace couplet
