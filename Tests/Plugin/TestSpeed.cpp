// SPDX-License-Identifier: GPL-3.0-or-later
//
// Times are hidden, for they depend on what else the computer does: couplet_plugin_tests "[speed]" -s
#include "Plugin/Rig.h"
#include "Speed/TargetCheck.h"

#include <catch2/catch.hpp>

#include <array>
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

// A ratio of the least of many runs holds on a busy computer too. What a host's wrapper adds is docs/performance.md's.
TEST_CASE("blocks of 16 cost at most 1.3 times those of 1024, frame by frame", "[target]")
{
    constexpr int frames = 16384;
    std::array<double, 2> least{1e9, 1e9};
    Processor processor;
    processor.prepareToPlay(48000.0, 1024);
    juce::MidiBuffer midi;
    for (int run = 0; run < 30; ++run)
        for (const int block : {16, 1024}) {
            juce::AudioBuffer<float> buffer(2, block);
            for (int i = 0; i < block; ++i)
                for (int c = 0; c < 2; ++c)
                    buffer.setSample(c, i, static_cast<float>(0.1 * std::sin(2.0 * std::numbers::pi * i / 16.0)));
            const double start = processorTime_s();
            for (int done = 0; done < frames; done += block)
                processor.processBlock(buffer, midi);
            double& best = least[block == 16 ? 0 : 1];
            best = std::min(best, processorTime_s() - start);
        }
    CAPTURE(1e9 * least[0] / frames, 1e9 * least[1] / frames); // ns a frame
    targets::hold(targets::blocks, least[0] / least[1]);
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
