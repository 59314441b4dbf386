// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <chrono>
#include <string_view>

// Purpose: a line on standard error that says how far a long piece of work is: only on a terminal, only for takes
//          longer than 5 minutes and for other work that has gone on for a second, and gone at the end, so that it is
//          in the way of nothing.
// Thread:  any but audio (writes).
namespace couplet {

class Progress
{
public:
    explicit Progress(double duration_s);     // of a take that is read
    explicit Progress(std::string_view what); // "importing"
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    ~Progress();

    void reached(double fraction); // 0 to 1; shown ten times a second at most

private:
    std::string_view what = "reading";
    bool wanted;
    bool shown = false;
    std::chrono::steady_clock::time_point last{};
};

} // namespace couplet
