// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/Seatings.h"
#include "Bench/ToneSummary.h"

#include <catch2/catch.hpp>

#include <cmath>

// Several seatings as one tone: the mean of their levels, and the worst that any of them shows, wherever it stands.

using namespace couplet;

namespace {

ToneSummary good()
{
    ToneSummary s;
    s.level_dBFS = -9.30;
    s.frequency = Hertz(1000.0);
    s.steadiness_dB = 0.01;
    s.scatter_dB = 0.03;
    s.slope_dBPerSecond = 0.001;
    s.slopeU_dBPerSecond = 0.0002;
    s.distortion_percent = 0.2;
    s.distortionAndNoise_percent = 0.5;
    s.noise_dBFS = -90.0;
    s.noiseA_dBFS = -95.0;
    s.hum_dBFS = -80.0;
    s.hum = Hertz(50.0);
    s.humBound_dB = 0.001;
    s.headroom_dB = 9.0;
    s.dc_dBFS = -70.0;
    s.stretch_s = 12.0;
    s.begins = true;
    s.thirdInPhase = 0.002;
    s.duration_s = 15.0;
    return s;
}

ToneSummary bad()
{
    ToneSummary s;
    s.level_dBFS = -9.40;
    s.frequency = Hertz(1001.0);
    s.steadiness_dB = 0.06;
    s.scatter_dB = 0.04;
    s.slope_dBPerSecond = -0.02;
    s.slopeU_dBPerSecond = 0.0007;
    s.distortion_percent = 1.1;
    s.distortionAndNoise_percent = 2.2;
    s.noise_dBFS = -60.0;
    s.noiseA_dBFS = -65.0;
    s.hum_dBFS = -50.0;
    s.hum = Hertz(60.0);
    s.humBound_dB = 0.015;
    s.headroom_dB = 4.0;
    s.clippedSamples = 3;
    s.clippedElsewhere = 4;
    s.thirdInPhase = -0.01;
    s.brokenSamples = 5;
    s.dc_dBFS = -40.0;
    s.stretch_s = 6.0;
    s.disturbances = 2;
    s.duration_s = 20.0;
    return s;
}

} // namespace

TEST_CASE("of several seatings each figure is the worst, wherever it stands")
{
    const bool badFirst = GENERATE(true, false);
    CAPTURE(badFirst);
    const auto all = badFirst ? together({bad(), good()}) : together({good(), bad()});
    CHECK(*all.level_dBFS == Approx(-9.35));
    CHECK(all.frequency->value == Approx(1000.5));
    CHECK(all.scatter_dB == Approx(0.025)); // of the mean: sqrt(0.03^2 + 0.04^2) / 2
    CHECK(all.steadiness_dB == 0.06);
    CHECK(all.slope_dBPerSecond == -0.02);
    CHECK(all.slopeU_dBPerSecond == 0.0007);
    CHECK(all.distortion_percent == 1.1);
    CHECK(all.distortionAndNoise_percent == 2.2);
    CHECK(all.noise_dBFS == -60.0);
    CHECK(all.noiseA_dBFS == -65.0);
    CHECK(all.hum_dBFS == -50.0);
    CHECK(all.hum->value == 60.0);
    CHECK(all.humBound_dB == 0.015);
    CHECK(all.headroom_dB == 4.0);
    CHECK(all.clippedSamples == 3);
    CHECK(all.clippedElsewhere == 4);
    CHECK(all.thirdInPhase == -0.01);
    CHECK_FALSE(all.begins);
    CHECK(all.brokenSamples == 5);
    CHECK(all.dc_dBFS == -40.0);
    CHECK(all.stretch_s == 6.0);
    CHECK(all.disturbances == 2);
    CHECK(all.duration_s == 35.0);
}

TEST_CASE("what one seating does not know, the other's figure stands for")
{
    auto silent = good();
    silent.noise_dBFS.reset();
    silent.headroom_dB.reset();
    silent.hum_dBFS.reset();
    silent.hum.reset();
    for (const auto& all : {together({silent, bad()}), together({bad(), silent})}) {
        CHECK(all.noise_dBFS == -60.0);
        CHECK(all.headroom_dB == 4.0);
        CHECK(all.hum_dBFS == -50.0);
        CHECK(all.hum->value == 60.0);
    }
}

TEST_CASE("one seating is itself, and three count what was clipped in each")
{
    CHECK(together({bad()}).scatter_dB == 0.04);
    CHECK(together({bad()}).level_dBFS == -9.40);
    const auto three = together({bad(), bad(), bad()});
    CHECK(three.clippedSamples == 9);
    CHECK(three.brokenSamples == 15);
    CHECK(three.disturbances == 6);
    CHECK(three.scatter_dB == Approx(0.04 / std::sqrt(3.0)));
}

TEST_CASE("what is asked of a calibrator's tone is what was measured of it")
{
    const auto facts = toneFacts(bad());
    REQUIRE(facts);
    CHECK(facts->frequency.value == 1001.0);
    CHECK(facts->steadiness_dB == 0.06);
    CHECK(facts->distortionAndNoise_percent == 2.2);
    CHECK(facts->aboveNoise_dB == Approx(50.6)); // -9.40 - -60.0
    CHECK(facts->headroom_dB == 4.0);
    CHECK(facts->clippedSamples == 3);
    CHECK(facts->steadyFor_s == 6.0);
    CHECK(facts->slope_dBPerSecond == -0.02);
    CHECK(facts->slopeU_dBPerSecond == 0.0007);
    CHECK(*facts->humBelowTone_dB == Approx(40.6));
    auto none = bad();
    none.level_dBFS.reset();
    CHECK_FALSE(toneFacts(none));
    none = bad();
    none.frequency.reset();
    CHECK_FALSE(toneFacts(none));
}
