// SPDX-License-Identifier: GPL-3.0-or-later
//
// Hidden, for what it measures depends on what else the computer does: couplet_plugin_tests "[speed]" -s
#include "Plugin/Rig.h"

#include <catch2/catch.hpp>

#include <chrono>
#include <ctime>

using namespace couplet;
using namespace couplet::tests;

namespace {

double processorTime_s()
{
    timespec now{};
    ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

} // namespace

TEST_CASE("the callback takes less than 0.5 % of a core at 48 kHz, stereo, blocks of 64 to 1024", "[.speed]")
{
    constexpr int seconds = 20;
    for (const int block : {64, 256, 1024}) {
        Processor processor;
        processor.prepareToPlay(48000.0, block);
        processor.parameters.set(ParameterId::secondChannel, 1);
        juce::AudioBuffer<float> buffer(2, block);
        juce::MidiBuffer midi;
        juce::Random random(1);
        double used_s = 0.0, phase = 0.0;
        for (int n = 0; n < seconds * 48000 / block; ++n) {
            for (int i = 0; i < block; ++i, phase += 0.1309)
                for (int c = 0; c < 2; ++c)
                    buffer.setSample(c, i, static_cast<float>(0.25 * std::sin(phase)) + 1e-4f * random.nextFloat());
            const double start = processorTime_s();
            processor.processBlock(buffer, midi);
            used_s += processorTime_s() - start;
        }
        const double percent = 100.0 * used_s / seconds;
        CAPTURE(block);
        CHECK(percent < 0.5);
    }
}

TEST_CASE("the message thread takes less than 3 % of a core while an editor looks", "[.speed]")
{
    constexpr int seconds = 20;
    Rig rig;
    const auto editor = std::unique_ptr<juce::AudioProcessorEditor>(rig.processor->createEditorIfNeeded());
    rig.processor->simulate(true, {OnCoupler::What::earphone, 3, Side::left});
    rig.play(4.0, -20.0);
    double used_s = 0.0;
    juce::AudioBuffer<float> buffer(2, 2400);
    buffer.clear();
    juce::MidiBuffer midi;
    for (int n = 0; n < seconds * 20; ++n) {
        rig.processor->processBlock(buffer, midi);
        const double start = processorTime_s();
        rig.processor->tick();
        used_s += processorTime_s() - start;
    }
    rig.processor->editorBeingDeleted(editor.get());
    const double percent = 100.0 * used_s / seconds;
    CHECK(percent < 3.0);
}
