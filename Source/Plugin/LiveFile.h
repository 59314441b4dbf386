// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"

#include <filesystem>
#include <optional>
#include <string_view>
#include <utility>

// Purpose: the file named by COUPLET_LIVE, for scripts, overlays and tests: replaced whole at each writing, so that a
//          reader never sees half. Where several instances live in one process, the first to write has FILE itself,
//          the others FILE.2, FILE.3 and so on; a number that is free again is given again. Hosts make instances that
//          never hear anything (to scan, to try a block size): they do not write and take no number.
// Errors:  a sentence that names the file; it is not synced to disk, for it is worth nothing after a crash.
// Thread:  any but audio.
namespace couplet {

class LiveFile
{
public:
    // Of the environment; absent when it names none.
    static std::optional<std::filesystem::path> named();

    explicit LiveFile(std::filesystem::path named) : file(std::move(named)) {}
    ~LiveFile();
    LiveFile(const LiveFile&) = delete;
    LiveFile& operator=(const LiveFile&) = delete;

    // With its number, once it has been written to.
    const std::filesystem::path& path() const { return file; }
    Outcome<Done> write(std::string_view);

private:
    int number = 0; // 0: none yet
    std::filesystem::path file;
};

} // namespace couplet
