// SPDX-License-Identifier: GPL-3.0-or-later
//
// JUCE must be up before the first test and down after the last. No test sees the library of whoever runs it.
#define CATCH_CONFIG_RUNNER
#include <catch2/catch.hpp>

#include <juce_events/juce_events.h>

#include <cstdlib>

int main(int count, char** words)
{
    ::setenv("COUPLET_LIBRARY", COUPLET_SCRATCH "/no-library", 1);
    ::unsetenv("COUPLET_LIVE");
    const juce::ScopedJuceInitialiser_GUI juceIsUp;
    return Catch::Session().run(count, words);
}
