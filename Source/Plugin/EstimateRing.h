// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Signal/Estimate.h"

#include <array>
#include <atomic>
#include <cstddef>
#include <cstdint>

// Purpose: hands estimates from the audio thread to the message thread. It holds 64, a little over 3 s of them; what
//          does not fit is dropped and counted, and nothing that was counted since the stream began is lost with it.
// Thread:  push: audio; pop: message; lost: any. One of each at a time. No lock, no allocation.
namespace couplet {

// An estimate and the stream it belongs to: a new one begins with every change of rate, channel or source.
struct Heard
{
    Estimate estimate;
    std::uint32_t stream = 0;
};

class EstimateRing
{
public:
    static constexpr std::size_t capacity = 64;

    bool push(const Heard& heard) noexcept
    {
        const std::size_t end = written.load(std::memory_order_relaxed);
        if (end - taken.load(std::memory_order_acquire) == capacity) {
            lostCount.fetch_add(1, std::memory_order_relaxed);
            return false;
        }
        places[end % capacity] = heard;
        written.store(end + 1, std::memory_order_release);
        return true;
    }

    bool pop(Heard& heard) noexcept
    {
        const std::size_t begin = taken.load(std::memory_order_relaxed);
        if (begin == written.load(std::memory_order_acquire))
            return false;
        heard = places[begin % capacity];
        taken.store(begin + 1, std::memory_order_release);
        return true;
    }

    std::int64_t lost() const noexcept { return lostCount.load(std::memory_order_relaxed); }

private:
    std::array<Heard, capacity> places{};
    std::atomic<std::size_t> written{0}, taken{0};
    std::atomic<std::int64_t> lostCount{0};
};

} // namespace couplet
