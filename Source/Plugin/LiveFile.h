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
// Rules:   it replaces a regular file of this user, or nothing; links are followed, and stay. A folder, a device, a pipe,
//          a socket and another user's file stay as they are, also where one comes there meanwhile. Its mode is kept.
//          Each text is written beside it first, as `.couplet-live-<process>-<number>.tmp`, and a process that is killed
//          may leave that: the next one to write in that folder takes it away.
// Errors:  a sentence that names the file; it is not synced to disk, for it is worth nothing after a crash.
// Source:  renameat2(2) of Linux, RENAME_EXCHANGE and RENAME_NOREPLACE; open(2), O_PATH.
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
    int number = 0;     // 0: none yet
    bool swept = false; // what dead processes left there
    std::filesystem::path file;
};

} // namespace couplet
