// SPDX-License-Identifier: GPL-3.0-or-later
#include "Speed/Targets.h"

#include <fmt/format.h>

#include <cstdlib>
#include <fstream>

namespace couplet::targets {

double reached(const Target& t, double figure, const std::string& by)
{
    const char* file = std::getenv("COUPLET_REACHED");
    if (file == nullptr || *file == '\0')
        return figure;
    const auto quantity = [&](double value, int decimals) {
        return fmt::format("{:.{}f}{}{}", value, decimals, *t.unit == '\0' ? "" : " ", t.unit);
    };
    const std::string limit = fmt::format("{:g}{}{}", t.limit, *t.unit == '\0' ? "" : " ", t.unit);
    std::ofstream(file, std::ios::app) << fmt::format(
        "{}\t| {} | {} {} | {}{} | {} |\n", t.place, t.promise, t.atLeast ? "at least" : "at most", limit,
        quantity(figure, t.decimals), isHeld(t, figure) ? "" : " (**missed**)", by);
    return figure;
}

} // namespace couplet::targets
