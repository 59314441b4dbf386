// SPDX-License-Identifier: GPL-3.0-or-later
#include "Bench/HeardTones.h"
#include "Bench/LiveCalibrator.h"
#include "Bench/QuickCheck.h"
#include "Bench/ReferenceStep.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

// Where a reference's second level and a quick check's causes change, from both sides of each edge.

using namespace couplet;
using namespace couplet::tests;

namespace {

ToneSummary heard(double level_dBFS, double frequency_Hz = 1000.0)
{
    auto s = calibratorHeard(level_dBFS);
    s.frequency = Hertz(frequency_Hz);
    s.duration_s = 10.0;
    return s;
}

Calibrator threeLevels()
{
    Calibrator c;
    c.name = "bench calibrator";
    for (const double level_dB : {94.0, 104.0, 114.0})
        c.tones.push_back({Hertz(1000.0), level_dB, 0.15});
    c.tones.push_back({Hertz(250.0), 124.0, 0.15});
    return c;
}

// Causes after a change of so much, with a slope.
std::vector<std::string> causes(double change_dB, double slope_dBPerSecond = 0.0, double slopeU = 0.0)
{
    auto setup = setupOnPaper();
    setup.coupler.references = {takeReference(heard(-9.31), setup)->kept(setup)};
    auto tone = heard(-9.31 + change_dB);
    tone.slope_dBPerSecond = slope_dBPerSecond;
    tone.slopeU_dBPerSecond = slopeU;
    return quickCheck(tone, setup).causes;
}

bool name(const std::vector<std::string>& causes, const std::string& words)
{
    return std::any_of(causes.begin(), causes.end(),
                       [&](const std::string& cause) { return cause.find(words) != std::string::npos; });
}

} // namespace

TEST_CASE("the second level is the certified one that the step comes nearest to")
{
    const auto calibrator = threeLevels();
    const CertifiedTone top = calibrator.tones[2], middle = calibrator.tones[1];
    const auto step = [&](double first_dBFS, double second_dBFS, const CertifiedTone& believed) {
        return levelStep(heard(first_dBFS), heard(second_dBFS), believed, calibrator);
    };
    CHECK(step(-10.0, -19.9, top)->to_dB == 104.0);
    CHECK(step(-10.0, -19.9, top)->measured_dB == Approx(9.9));
    CHECK(step(-10.0, -19.9, top)->certified_dB == Approx(10.0));
    CHECK(step(-10.0, -30.1, top)->to_dB == 94.0);
    CHECK(step(-20.0, -10.1, middle)->to_dB == 114.0); // upward
    CHECK(step(-20.0, -10.1, middle)->measured_dB == Approx(9.9));
    CHECK(step(-20.0, -29.9, middle)->to_dB == 94.0);
}

TEST_CASE("a second level is heard at the same frequency, and at half of its step or more")
{
    const auto calibrator = threeLevels();
    const CertifiedTone top = calibrator.tones[2];
    const auto accepts = [&](double second_dBFS, double frequency_Hz = 1000.0) {
        return static_cast<bool>(levelStep(heard(-10.0), heard(second_dBFS, frequency_Hz), top, calibrator));
    };
    CHECK(accepts(-15.1)); // of 10 dB
    CHECK_FALSE(accepts(-14.9));
    CHECK_FALSE(accepts(-5.0)); // the wrong way
    CHECK_FALSE(accepts(-10.0));
    CHECK(accepts(-20.0, 1060.0));       // 0.084 octaves
    CHECK_FALSE(accepts(-20.0, 1080.0)); // 0.111
    CHECK_FALSE(accepts(-20.0, 930.0));
    CHECK_FALSE(levelStep(heard(-10.0), heard(-20.0, 250.0), calibrator.tones[3], calibrator));
}

TEST_CASE("what may have moved a tone is named by its size and its direction")
{
    CHECK(name(causes(-2.9), "the seating"));
    CHECK(name(causes(-2.9), "battery"));
    CHECK_FALSE(name(causes(-3.1), "the seating"));
    CHECK_FALSE(name(causes(-3.1), "battery"));
    CHECK_FALSE(name(causes(2.0), "the seating")); // nothing of that kind makes a tone louder
    CHECK(name(causes(2.0), "compare its position"));
    CHECK(name(causes(-6.1), "a step of 6.02 dB"));
    CHECK_FALSE(name(causes(-6.15), "a step of"));
    CHECK(causes(0.0).empty());
}

TEST_CASE("a level falls when it falls by more than warmth and by more than its own scatter")
{
    CHECK(name(causes(0.0, -0.006, 0.0019), "the level falls by 0.006 dB/s"));
    CHECK_FALSE(name(causes(0.0, -0.006, 0.0021), "falls"));
    CHECK_FALSE(name(causes(0.0, -0.004, 0.0001), "falls"));
    CHECK_FALSE(name(causes(0.0, 0.006, 0.0001), "falls"));
}

TEST_CASE("a gain's step is no larger than 60 dB")
{
    CHECK(gainStepNear(60.0) == 60.0);
    CHECK(gainStepNear(-60.05) == -60.0);
    CHECK_FALSE(gainStepNear(70.0));
    CHECK_FALSE(gainStepNear(66.2266));
    CHECK_FALSE(gainStepNear(0.0));
    CHECK(gainStepNear(9.9) == 10.0);
    CHECK_FALSE(gainStepNear(9.85));
}
