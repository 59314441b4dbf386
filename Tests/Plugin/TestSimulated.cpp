// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Rig.h"

#include <catch2/catch.hpp>

using namespace couplet;
using namespace couplet::tests;

namespace {

OnCoupler earphoneOn(std::size_t index, Side side)
{
    return {OnCoupler::What::earphone, index, side};
}

} // namespace

TEST_CASE("the simulated bench reads its truth within its own uncertainty, and is marked")
{
    const Scenario scenario = demoScenario();
    for (const double rate : {44100.0, 48000.0, 96000.0}) {
        Rig rig(rate);
        for (std::size_t index = 0; index < scenario.earphones.size(); ++index)
            for (const Side side : {Side::left, Side::right}) {
                const auto on = earphoneOn(index, side);
                rig.processor->simulate(true, on);
                rig.play(3.0, -20.0); // what comes in meanwhile is not heard
                CAPTURE(rate, index, side == Side::left, rig.view().reading.tone.whyNoLevel);
                REQUIRE(rig.measured_dB());
                CHECK(rig.view().simulated);
                CHECK(rig.view().onSimulatedCoupler == on);
                CHECK(rig.view().reading.referenced);
                CHECK(*rig.measured_dB() == Approx(*trueLevel_dBSPL(scenario, on)).margin(0.05));
                CHECK(rig.view().reading.earphone == scenario.earphones[index].name);
                REQUIRE(rig.view().reading.verdict);
                CHECK(*rig.view().reading.verdict == Verdict::agrees);
                CHECK(rig.view().reading.notes.front().find("simulated") != std::string::npos);
            }
    }
}

TEST_CASE("the simulated drive is what was chosen, sensed on its own channel too")
{
    Rig rig;
    auto on = earphoneOn(0, Side::left);
    on.drive = Volts(0.1248); // twice the earphone's own
    rig.processor->simulate(true, on);
    rig.play(3.0, -20.0);
    CHECK(*rig.measured_dB() == Approx(94.82 + 6.02).margin(0.05));
    CHECK(rig.view().reading.drive->voltage.value == Approx(0.1248));
    rig.set(ParameterId::secondChannel, 1);
    rig.play(3.0, -20.0);
    CHECK(rig.view().reading.drive->sensed);
    CHECK(rig.view().reading.drive->voltage.value == Approx(0.1248).epsilon(0.001));
}

TEST_CASE("the calibrator and an empty coupler lie there too, and the real input comes back")
{
    Rig rig;
    rig.processor->simulate(true, {OnCoupler::What::calibrator});
    rig.play(3.0, -20.0);
    CHECK(*rig.measured_dB() == Approx(114.02 - 1.36).margin(0.05));
    CHECK_FALSE(rig.view().reading.expected);
    rig.processor->simulate(true, {});
    rig.play(3.0, -20.0);
    CHECK_FALSE(rig.measured_dB());
    rig.processor->simulate(false, {});
    rig.play(1.5, -20.0);
    CHECK_FALSE(rig.view().simulated);
    CHECK(*rig.measured_dB() == Approx(-20.0).margin(0.001));
    CHECK_FALSE(rig.view().reading.referenced);
}

TEST_CASE("the standalone's simulated bench needs no audio device")
{
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Standalone);
    Processor processor;
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Undefined);
    processor.simulate(true, {OnCoupler::What::calibrator});
    const auto end = juce::Time::getMillisecondCounter() + 5000;
    while (!processor.view().reading.measured && juce::Time::getMillisecondCounter() < end) {
        processor.tick();
        juce::Thread::sleep(20);
    }
    REQUIRE(processor.view().reading.measured);
    CHECK(processor.view().simulated);
    CHECK(processor.view().audioRuns);
}
