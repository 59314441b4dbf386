// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Library/Folder.h"

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

// Purpose: every kind of save, one a line, for tests that stop it anywhere: what was there, what is done, and what must
//          hold afterwards.
namespace couplet::tests {

struct SaveScenario
{
    std::string name;
    // The library's folder within the one that is watched; what stands between may be made by the work.
    std::filesystem::path library;
    std::function<void(const Folder&)> prepare;
    std::function<Outcome<Done>(const Folder&)> work;
    // What is wrong, empty when nothing is; `done`: the work was reported as done. It must also hold after the work
    // was never begun.
    std::function<std::string(const Folder&, bool done)> problem;
    // Which of its syncs, counted from 1, could be left out and nothing be lost, with the reason.
    struct Redundant
    {
        int sync;
        std::string reason;
    };
    std::vector<Redundant> redundant;
    bool isLarge = false; // takes its time
};

const std::vector<SaveScenario>& saveScenarios();

// What holds after any of them: every file can be read, the next save works, and nothing that a save left is there.
std::string unsoundness(const Folder&);

} // namespace couplet::tests
