// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Speed/Targets.h"

#include <catch2/catch.hpp>

// Purpose: a target that a test holds: its figure is noted with the test's name, and checked against the limit.
// Thread:  the test's.
namespace couplet::targets {

inline void hold(const Target& target, double figure)
{
    INFO(target.promise);
    reached(target, figure, Catch::getResultCapture().getCurrentTestName());
    if (target.atLeast)
        CHECK(figure >= target.limit);
    else
        CHECK(figure <= target.limit);
}

} // namespace couplet::targets
