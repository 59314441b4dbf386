// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Progress.h"

#include <fmt/format.h>

#include <cstdio>
#include <unistd.h>

namespace couplet {
namespace {

constexpr double longTake_s = 300.0;
constexpr std::chrono::seconds longWork{1};

} // namespace

Progress::Progress(double duration_s) : wanted(duration_s > longTake_s && ::isatty(STDERR_FILENO) == 1) {}

// As if a line had been shown in a second's time: the next comes after that.
Progress::Progress(std::string_view w)
    : what(w), wanted(::isatty(STDERR_FILENO) == 1), last(std::chrono::steady_clock::now() + longWork)
{
}

Progress::~Progress()
{
    if (shown)
        std::fputs("\r                    \r", stderr);
}

void Progress::reached(double fraction)
{
    const auto now = std::chrono::steady_clock::now();
    if (!wanted || now - last < std::chrono::milliseconds{100})
        return;
    last = now;
    shown = true;
    std::fputs(fmt::format("\r{}: {:3.0f} %", what, 100.0 * fraction).c_str(), stderr); // a terminal may be gone by now
}

} // namespace couplet
