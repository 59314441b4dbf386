// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Command/Dispatch.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

namespace couplet::tests {

// A library with one item of each kind, and a place beside it for files.
struct Shelf
{
    explicit Shelf(bool filled = true) : folder(scratch.path / "library")
    {
        for (const auto& item : filled ? items : std::vector<Item>())
            REQUIRE(folder.save(item));
    }

    Outcome<Answer> run(std::vector<std::string> words, const Folder& where) const
    {
        words.insert(words.begin(), "library");
        words.insert(words.end(), {"--library", where.path().string()});
        return runCommand(words);
    }
    std::string answer(const std::vector<std::string>& words) const
    {
        const auto answered = run(words, folder);
        if (!answered)
            FAIL(answered.fault().sentence);
        CHECK(answered->status == 0);
        return answered->text;
    }
    std::string refusal(const std::vector<std::string>& words) const
    {
        const auto answered = run(words, folder);
        return answered ? "no fault" : answered.fault().sentence;
    }
    std::string file(const std::string& name, const std::string& content) const
    {
        writeContent(scratch.path / name, content);
        return (scratch.path / name).string();
    }

    Scratch scratch;
    Folder folder;
    std::vector<Item> items = {fullCoupler("bench"), fullCalibrator("Lab"), fullEarphone("S 試"),
                               fullDriveSource("output 1")};
};

} // namespace couplet::tests
