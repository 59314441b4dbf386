// SPDX-License-Identifier: GPL-3.0-or-later
//
// What fuzzing began with and what it found, met by every parser in every run.
#include "Fuzz/Parsers.h"
#include "Library/Scratch.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace couplet;

namespace fs = std::filesystem;

TEST_CASE("every parser survives its corpus, and every beginning of each file of it")
{
    for (const auto& parser : fuzz::parsers()) {
        int files = 0;
        for (const auto& entry : fs::directory_iterator(fs::path(COUPLET_TESTS_DIR) / "Fuzz/corpus" / parser.name)) {
            const auto text = tests::contentOfFile(entry.path());
            parser.read(text); // ends the program when something does not hold
            const std::size_t step = std::max<std::size_t>(1, text.size() / 200);
            for (std::size_t length = 0; length < text.size(); length += step)
                parser.read(std::string_view(text).substr(0, length));
            ++files;
        }
        CAPTURE(parser.name);
        CHECK(files >= 3);
    }
}

TEST_CASE("every parser survives the broken files of the others")
{
    for (const auto& parser : fuzz::parsers())
        for (const auto& entry : fs::recursive_directory_iterator(fs::path(COUPLET_TESTS_DIR) / "Fuzz/corpus"))
            if (entry.is_regular_file())
                parser.read(tests::contentOfFile(entry.path()));
    SUCCEED();
}
