// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>
#include <vector>

// Purpose: every parser of the product that meets bytes from elsewhere, each as a function that any bytes may be given:
//          it returns, whatever they are. What was read must hold what its header promises; else the function says what
//          it found and ends the program.
// Shapes:  the parser's name is that of its folder in Tests/Fuzz/corpus.
namespace couplet::fuzz {

struct Parser
{
    std::string name;
    void (*read)(std::string_view bytes);
};

// item, library, response, readings, quantity, take, session, sheet, names, history, version.
const std::vector<Parser>& parsers();

// Says so and ends the program, as a fuzzer expects it.
void hold(bool holds, const char* what);

// Each fault is one line that says something.
void holdSentence(const std::string&);

} // namespace couplet::fuzz
