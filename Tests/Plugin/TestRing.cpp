// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/EstimateRing.h"

#include <catch2/catch.hpp>

#include <thread>

using namespace couplet;

namespace {

Heard numbered(std::int64_t hop)
{
    Heard heard;
    heard.estimate.hop = hop;
    heard.estimate.duration_s = static_cast<double>(hop) * 0.05;
    heard.stream = 7;
    return heard;
}

} // namespace

TEST_CASE("the ring gives back 64 estimates in order and counts those that did not fit")
{
    EstimateRing ring;
    Heard heard;
    CHECK_FALSE(ring.pop(heard));
    for (std::int64_t hop = 1; hop <= 70; ++hop)
        CHECK(ring.push(numbered(hop)) == (hop <= 64));
    CHECK(ring.lost() == 6);
    for (std::int64_t hop = 1; hop <= 64; ++hop) {
        REQUIRE(ring.pop(heard));
        CHECK(heard.estimate.hop == hop);
        CHECK(heard.stream == 7);
    }
    CHECK_FALSE(ring.pop(heard));
}

TEST_CASE("between two threads no estimate comes torn, twice or out of order")
{
    constexpr std::int64_t count = 20000;
    EstimateRing ring;
    std::thread audio([&] {
        for (std::int64_t hop = 1; hop <= count;)
            if (ring.push(numbered(hop)))
                ++hop;
            else
                std::this_thread::yield();
    });
    Heard heard;
    std::int64_t expected = 1;
    bool whole = true;
    while (expected <= count)
        if (ring.pop(heard)) {
            whole = whole && heard.estimate.hop == expected &&
                    heard.estimate.duration_s == static_cast<double>(expected) * 0.05;
            ++expected;
        }
    audio.join();
    CHECK(whole);
}
