// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

// Purpose: counts what must not happen on an audio thread: heap, locks, waits, files. Linked into a test's executable,
//          whose definitions stand in for the C library's for every caller, the framework's included. It does not see
//          a raw futex.
// Thread:  counts per thread, and only while a Watch lives on it.
namespace couplet::tests {

struct Violations
{
    long mallocs = 0, frees = 0, locks = 0, waits = 0, io = 0;
    long total() const { return mallocs + frees + locks + waits + io; }
};

// Of this thread, and counted from zero again.
Violations takeViolations() noexcept;

struct Watch
{
    Watch() noexcept;
    ~Watch() noexcept;
    Watch(const Watch&) = delete;
    Watch& operator=(const Watch&) = delete;
};

} // namespace couplet::tests
