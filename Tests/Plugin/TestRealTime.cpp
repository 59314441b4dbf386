// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/ClosedLoop.h"
#include "Plugin/RealTimeGuard.h"
#include "Plugin/Rig.h"
#include "Speed/TargetCheck.h"

#include <catch2/catch.hpp>

#include <malloc.h>
#include <mutex>
#include <thread>
#include <unistd.h>

using namespace couplet;
using namespace couplet::tests;

namespace {

// Blocks of a tone, watched; what is set before the first is found at once.
Violations violationsWhilePlaying(Processor& processor, double seconds, int block = 512)
{
    juce::AudioBuffer<float> buffer(2, block);
    juce::MidiBuffer midi;
    double phase = 0.0;
    takeViolations();
    for (int blocks = static_cast<int>(seconds * 48000.0 / block); blocks > 0; --blocks) {
        for (int i = 0; i < block; ++i, phase += 0.1309)
            for (int c = 0; c < 2; ++c)
                buffer.setSample(c, i, static_cast<float>(0.25 * std::sin(phase)));
        const Watch watch;
        processor.processBlock(buffer, midi);
    }
    return takeViolations();
}

void checkNone(const Violations& v)
{
    CHECK(v.mallocs == 0);
    CHECK(v.frees == 0);
    CHECK(v.locks == 0);
    CHECK(v.waits == 0);
    CHECK(v.io == 0);
}

} // namespace

TEST_CASE("the guard sees heap, locks, waits and files")
{
    std::mutex mutex;
    juce::CriticalSection section;
    std::unique_ptr<int[]> kept;
    const auto seen = [](const auto& act) {
        takeViolations();
        {
            const Watch watch;
            act();
        }
        return takeViolations();
    };
    CHECK(seen([&] { kept.reset(new int[100]); }).mallocs == 1);
    CHECK(seen([&] { kept.reset(); }).frees == 1);
    CHECK(seen([&] { const std::lock_guard lock(mutex); }).locks == 1);
    CHECK(seen([&] { const juce::ScopedLock lock(section); }).locks == 1);
    CHECK(seen([&] { std::this_thread::sleep_for(std::chrono::milliseconds(1)); }).waits == 1);
    CHECK(seen([&] { std::this_thread::yield(); }).waits == 1);
    ssize_t written = 0;
    CHECK(seen([&] { written = ::write(-1, "", 1); }).io == 1);
    CHECK(written == -1);
    kept.reset(new int[4]);
    CHECK(takeViolations().total() == 0);
}

TEST_CASE("the audio thread neither allocates, locks, waits nor touches files, whatever is set")
{
    for (std::size_t i = 0; i < parameterCount; ++i) {
        const auto& line = parameterLines()[i];
        const auto id = static_cast<ParameterId>(i);
        for (double value = line.low; value <= line.high; value += std::max(1.0, (line.high - line.low) / 10.0)) {
            Processor processor;
            processor.prepareToPlay(48000.0, 512);
            processor.parameters.set(id, value);
            CAPTURE(line.id, value);
            checkNone(violationsWhilePlaying(processor, 0.3));
        }
    }
}

TEST_CASE("nor when a tone is found and followed, a setting changes, the ring is full or a loop is muted")
{
    Processor processor;
    processor.prepareToPlay(48000.0, 512);
    checkNone(violationsWhilePlaying(processor, 5.0)); // nobody takes from the ring
    CHECK_FALSE(processor.view().lostEstimates);
    processor.tick();
    CHECK(processor.view().reading.tone.level_dBFS.has_value() == false); // not yet shown
    for (const double source : {1.0, 2.0, 5.0, 10.0, 0.0}) {
        processor.parameters.set(ParameterId::simulatedSource, source);
        checkNone(violationsWhilePlaying(processor, 1.5));
    }
    for (const double second : {1.0, 2.0, 0.0}) {
        processor.parameters.set(ParameterId::secondChannel, second);
        checkNone(violationsWhilePlaying(processor, 1.5));
    }
    processor.resetExtremes();
    processor.unmuteLoop();
    checkNone(violationsWhilePlaying(processor, 1.5, 4096));
    processor.prepareToPlay(1000.0, 512);
    checkNone(violationsWhilePlaying(processor, 0.5));
}

TEST_CASE("nor while somebody looks at the spectrum, whether its worker keeps up or not")
{
    Processor processor;
    const std::unique_ptr<juce::AudioProcessorEditor> editor(processor.createEditorIfNeeded());
    processor.showSpectrum(true);
    for (const double rate : {48000.0, 96000.0}) {
        processor.prepareToPlay(rate, 512);
        checkNone(violationsWhilePlaying(processor, 0.1));
        processor.tick(); // now it is wanted
        for (int i = 0; i < 5; ++i) {
            checkNone(violationsWhilePlaying(processor, 0.5));
            juce::Thread::sleep(60);
            processor.tick();
        }
        CHECK(processor.view().spectrum);
        processor.parameters.set(ParameterId::simulatedSource, rate == 48000.0 ? 2.0 : 0.0);
        checkNone(violationsWhilePlaying(processor, 8.0)); // more than the feed holds
    }
    processor.showSpectrum(false);
    processor.tick();
    checkNone(violationsWhilePlaying(processor, 0.1));
    processor.editorBeingDeleted(editor.get());
}

TEST_CASE("nor while a loop rises, is asked and is muted")
{
    Processor processor;
    processor.prepareToPlay(48000.0, 480);
    ClosedLoop loop(480);
    juce::AudioBuffer<float> buffer(2, 480);
    juce::MidiBuffer midi;
    takeViolations();
    for (int n = 0; n < 500; ++n) {
        loop.hear(buffer.getWritePointer(0));
        buffer.copyFrom(1, 0, buffer, 0, 0, 480);
        {
            const Watch watch;
            processor.processBlock(buffer, midi);
        }
        loop.play(buffer.getReadPointer(0));
    }
    checkNone(takeViolations());
    CHECK(buffer.getMagnitude(0, 480) == 0.0f);
}

TEST_CASE("a session that goes on takes no more memory", "[target]")
{
    Rig rig;
    rig.play(20.0, -20.0);
    const auto before = ::mallinfo2().uordblks;
    rig.play(40.0, -20.0);
    targets::hold(targets::memory, static_cast<double>(::mallinfo2().uordblks) - static_cast<double>(before));
}

TEST_CASE("nor while a reference is taken and kept")
{
    Processor processor;
    processor.prepareToPlay(48000.0, 480);
    processor.simulate(true, {OnCoupler::What::calibrator});
    processor.setSeatings(1);
    juce::AudioBuffer<float> buffer(2, 480);
    juce::MidiBuffer midi;
    takeViolations();
    for (int blocks = 0; blocks < 2000 && processor.referenceView().state != CaptureState::done; ++blocks) {
        if (blocks == 300)
            processor.takeReference();
        {
            const Watch watch;
            processor.processBlock(buffer, midi);
        }
        processor.tick();
    }
    checkNone(takeViolations());
    CHECK(processor.referenceView().state == CaptureState::done);
}
