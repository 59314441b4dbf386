// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <atomic>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <span>
#include <vector>

// Purpose: hands the microphone's samples of one stream from the audio thread to a worker, only while they are wanted.
//          It holds 2 s at least; when the worker is late by more, as in offline rendering, samples are dropped, the gap
//          is counted, and the worker must begin anew behind it.
// Shapes:  blocks of any size.
// Thread:  write and breakOff: audio; take and endBreak: one worker; want: message; the rest any. Memory is taken by the
//          constructor alone; no lock.
namespace couplet {

class SampleFeed
{
public:
    explicit SampleFeed(double sampleRate_Hz)
        : places(std::bit_ceil(static_cast<std::size_t>(holds_s * sampleRate_Hz))), rate_Hz(sampleRate_Hz)
    {
    }

    void want(bool on) noexcept { isWanted.store(on, std::memory_order_relaxed); }
    bool wanted() const noexcept { return isWanted.load(std::memory_order_relaxed); }
    double sampleRate_Hz() const noexcept { return rate_Hz; }
    std::size_t capacity() const noexcept { return places.size(); }
    std::int64_t gaps() const noexcept { return gapCount.load(std::memory_order_relaxed); }
    std::uint64_t heard() const noexcept { return written.load(std::memory_order_acquire); }

    void write(const float* samples, int count) noexcept
    {
        if (!wanted()) {
            isIdle = true;
            return;
        }
        if (isIdle)
            breakOff();
        isIdle = false;
        if (isBroken.load(std::memory_order_acquire))
            return;
        const auto n = static_cast<std::size_t>(count);
        const std::uint64_t end = written.load(std::memory_order_relaxed);
        if (n > places.size() - static_cast<std::size_t>(end - taken.load(std::memory_order_acquire))) {
            gapCount.fetch_add(1, std::memory_order_relaxed);
            breakOff();
            return;
        }
        const std::size_t at = placeOf(end), first = std::min(n, places.size() - at);
        std::memcpy(&places[at], samples, first * sizeof(float));
        if (first < n) // round the end
            std::memcpy(places.data(), samples + first, (n - first) * sizeof(float));
        written.store(end + n, std::memory_order_release);
    }

    // What comes next does not follow what is here. Nothing is written until the worker has seen that.
    void breakOff() noexcept { isBroken.store(true, std::memory_order_release); }

    // Throws away what is from before a break; true when there was one.
    bool endBreak() noexcept
    {
        if (!isBroken.load(std::memory_order_acquire))
            return false;
        taken.store(written.load(std::memory_order_acquire), std::memory_order_release);
        isBroken.store(false, std::memory_order_release);
        return true;
    }

    // Lends the oldest samples, so many at most, to `use(std::span<const float>)`, once or twice. True: there are more.
    template <class Use> bool take(std::size_t most, Use&& use)
    {
        const std::uint64_t begin = taken.load(std::memory_order_relaxed);
        const auto there = static_cast<std::size_t>(written.load(std::memory_order_acquire) - begin);
        const std::size_t n = std::min(there, most), at = placeOf(begin), first = std::min(n, places.size() - at);
        if (first > 0)
            use(std::span<const float>(&places[at], first));
        if (first < n)
            use(std::span<const float>(places.data(), n - first));
        taken.store(begin + n, std::memory_order_release);
        return there > n;
    }

private:
    static constexpr double holds_s = 2.0;

    std::size_t placeOf(std::uint64_t sample) const { return static_cast<std::size_t>(sample) & (places.size() - 1); }

    std::vector<float> places; // a power of two
    double rate_Hz;
    bool isIdle = true; // of the audio thread
    std::atomic<bool> isWanted{false}, isBroken{false};
    std::atomic<std::uint64_t> written{0}, taken{0};
    std::atomic<std::int64_t> gapCount{0};
};

} // namespace couplet
