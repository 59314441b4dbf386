// SPDX-License-Identifier: GPL-3.0-or-later
#include "Simulation/AllocationCount.h"

#include <atomic>
#include <cstdlib>
#include <new>

namespace {

std::atomic<long> count{0};

} // namespace

// Arrays come here too, by the standard's defaults ([new.delete]); so would the non-throwing form, but a
// sanitizer brings one of its own, which would not fit our delete.
void* operator new(std::size_t size, const std::nothrow_t&) noexcept
{
    count.fetch_add(1, std::memory_order_relaxed);
    return std::malloc(size > 0 ? size : 1);
}
void* operator new(std::size_t size)
{
    if (void* memory = operator new(size, std::nothrow))
        return memory;
    throw std::bad_alloc();
}
void operator delete(void* memory) noexcept
{
    std::free(memory);
}
void operator delete(void* memory, std::size_t) noexcept
{
    std::free(memory);
}

namespace couplet::test {

long allocationCount() noexcept
{
    return count.load(std::memory_order_relaxed);
}

} // namespace couplet::test
