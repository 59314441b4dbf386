// SPDX-License-Identifier: GPL-3.0-or-later
//
// couplet_plugin_fuzz SECONDS [SEED]: rounds of random calls and garbage, each with a processor of its own and a seed of
// its own, for so long. Says the seed first; a finding names the round's seed, and `couplet_plugin_fuzz 0 SEED` plays
// that round again.
#include "Plugin/Fuzz/Subject.h"

#include <juce_events/juce_events.h>

#include <fmt/format.h>

#include <chrono>
#include <cstdlib>

namespace {

using namespace couplet::fuzz;

constexpr int stepsInRound = 60;

bool round(std::uint64_t seed, Counts& counts)
{
    Subject subject(seed, counts);
    for (int step = 1; step <= stepsInRound; ++step) {
        try {
            subject.step();
        } catch (const Finding& finding) {
            fmt::print("FAILED  seed {}, step {}: {}\n        while: {}\n", seed, step, finding.what,
                       subject.lastStep());
            return false;
        }
    }
    return true;
}

} // namespace

int main(int count, char** words)
{
    if (count < 2 || count > 3) {
        fmt::print(stderr, "couplet_plugin_fuzz SECONDS [SEED]\n");
        return 2;
    }
    // No test sees the library of whoever runs it.
    ::setenv("COUPLET_LIBRARY", "/dev/null/library", 1);
    ::unsetenv("COUPLET_LIVE");
    const juce::ScopedJuceInitialiser_GUI juceIsUp;
    using Clock = std::chrono::steady_clock;
    const auto end = Clock::now() + std::chrono::duration<double>(std::atof(words[1]));
    const std::uint64_t first = count == 3 ? std::strtoull(words[2], nullptr, 10) : 1;
    fmt::print("seeds from {}\n", first);
    Counts counts;
    int found = 0;
    std::uint64_t seed = first;
    do
        found += round(seed++, counts) ? 0 : 1;
    while (Clock::now() < end && found < 5);
    fmt::print("{} rounds, {} steps, {} blocks, {} samples, {} estimates, {} clean tones after garbage: {} findings\n",
               seed - first, counts.steps, counts.blocks, counts.samples, counts.estimates, counts.recoveries, found);
    return found == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
