// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <atomic>
#include <thread>

// Purpose: holds a flag for a scope, so that what the audio thread uses can be swapped for another: whoever comes second
//          on the audio thread passes by.
// Thread:  any but audio: it waits for an audio block to end, at most.
namespace couplet {

class Held
{
public:
    explicit Held(std::atomic_flag& f) : flag(f)
    {
        while (flag.test_and_set(std::memory_order_acquire))
            std::this_thread::yield();
    }
    ~Held() { flag.clear(std::memory_order_release); }
    Held(const Held&) = delete;
    Held& operator=(const Held&) = delete;

private:
    std::atomic_flag& flag;
};

} // namespace couplet
