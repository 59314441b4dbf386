// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

// Purpose: how often this test program has allocated with `new`, so that a test can say that something does
// not.
//          The replacement of operator new stands in AllocationCount.cpp, once for the whole program.
namespace couplet::test {

long allocationCount() noexcept;

} // namespace couplet::test
