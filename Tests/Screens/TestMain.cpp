// SPDX-License-Identifier: GPL-3.0-or-later
#define CATCH_CONFIG_RUNNER
#include <catch2/catch.hpp>

#include <juce_gui_basics/juce_gui_basics.h>

#include <cstdlib>

// No test sees the library of whoever runs it by hand.
int main(int argc, char* argv[])
{
    ::setenv("COUPLET_LIBRARY", "/nonexistent/couplet-library", 0);
    const juce::ScopedJuceInitialiser_GUI juceRuns;
    return Catch::Session().run(argc, argv);
}
