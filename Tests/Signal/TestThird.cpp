// SPDX-License-Identifier: GPL-3.0-or-later
#include "Signal/Analyser.h"
#include "Tracked.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace couplet;
using namespace couplet::test;

TEST_CASE("the third harmonic is told with its phase beside what a gain that depends on level makes of a sine")
{
    for (const double hz : {250.02, 1000.04})
        for (const double ratio : {-0.01, 0.01}) {
            Truth truth;
            truth.tone_Hz = hz;
            truth.third = ratio; // Re: in phase with the fundamental's third power
            Stream stream(truth.withSnr_dB(90.0), 3);
            Analyser analyser(48000.0);
            Estimate last;
            const auto samples = stream.seconds(3.0);
            analyser.add(samples.data(), nullptr, static_cast<int>(samples.size()),
                         [&](const Estimate& e) { last = e; });
            REQUIRE(last.tone.held());
            CAPTURE(hz, ratio);
            CHECK(last.tone.third.re == Approx(ratio).margin(1e-5));
            CHECK(std::abs(last.tone.third.im) < 1e-5);
        }
}
