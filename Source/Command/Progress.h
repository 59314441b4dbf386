// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <chrono>

// Purpose: a line on standard error that says how far a long take has been read: only on a terminal, only for takes
//          longer than 5 minutes, and gone at the end, so that it is in the way of nothing.
// Thread:  any but audio (writes).
namespace couplet {

class Progress
{
public:
    explicit Progress(double duration_s);
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    ~Progress();

    void reached(double fraction); // 0 to 1; shown ten times a second at most

private:
    bool wanted;
    bool shown = false;
    std::chrono::steady_clock::time_point last{};
};

} // namespace couplet
