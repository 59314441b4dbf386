// SPDX-License-Identifier: GPL-3.0-or-later
#include "Command/Progress.h"

#include <fmt/format.h>

#include <cstdio>
#include <unistd.h>

namespace couplet {
namespace {

constexpr double longTake_s = 300.0;

} // namespace

Progress::Progress(double duration_s) : wanted(duration_s > longTake_s && ::isatty(STDERR_FILENO) == 1) {}

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
    std::fputs(fmt::format("\rreading: {:3.0f} %", 100.0 * fraction).c_str(), stderr); // a terminal may be gone by now
}

} // namespace couplet
