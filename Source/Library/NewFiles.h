// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

// Purpose: many new files in one folder, each there whole or not at all, for the cost of few waits for the disk: all
//          are written under other names, then synced side by side, read back and renamed, and the folder is synced
//          once.
// Rules:   a file stands under its name only after it was written, synced and read back. When `put` has returned Done,
//          all of them last through a power cut; before that, each may be there or not.
// Errors:  one sentence with the file, the reason and the mend. What was not renamed by then is gone again.
// Thread:  any but audio, while the folder's lock is held. `put` uses threads of its own.
namespace couplet {

class NewFiles
{
public:
    explicit NewFiles(std::filesystem::path f) : folder(std::move(f)) {}
    NewFiles(const NewFiles&) = delete;
    NewFiles& operator=(const NewFiles&) = delete;
    ~NewFiles();

    // Nothing may stand under that name in the folder.
    Outcome<Done> write(const std::string& name, std::string text);
    std::size_t size() const { return files.size(); }
    // In the order of writing; empty afterwards.
    Outcome<Done> put();

private:
    struct File
    {
        std::filesystem::path path, target;
        std::string text;
    };
    Outcome<Done> syncAll() const;
    void clear();

    std::filesystem::path folder;
    std::vector<File> files;
};

} // namespace couplet
