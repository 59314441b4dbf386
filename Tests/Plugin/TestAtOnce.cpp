// SPDX-License-Identifier: GPL-3.0-or-later
//
// Everything at once, as hosts do it: of most use under the thread sanitizer (-DCOUPLET_SANITIZE=thread).
#include "Plugin/Rig.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <thread>

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("audio, state calls, automation and the view go on at once")
{
    Processor processor;
    processor.prepareToPlay(48000.0, 480);
    processor.putInSlot(1, std::optional(referencedCoupler("first", 100.0)));
    juce::MemoryBlock start;
    processor.getStateInformation(start);

    std::atomic<bool> done{false};
    std::thread audio([&] {
        juce::AudioBuffer<float> buffer(2, 480);
        juce::MidiBuffer midi;
        double phase = 0.0;
        while (!done) {
            for (int i = 0; i < 480; ++i, phase += 0.1309)
                for (int c = 0; c < 2; ++c)
                    buffer.setSample(c, i, static_cast<float>(0.1 * std::sin(phase)));
            processor.processBlock(buffer, midi);
            std::this_thread::yield();
        }
    });
    std::thread states([&] {
        while (!done) {
            juce::MemoryBlock block;
            processor.getStateInformation(block);
            processor.setStateInformation(start.getData(), static_cast<int>(start.getSize()));
            processor.setStateInformation("{\"version\":9}", 13);
        }
    });
    std::thread automation([&] {
        for (int n = 0; !done; ++n) {
            processor.parameters.set(ParameterId::couplerSlot, n % 3);
            processor.parameters.set(ParameterId::simulatedSource, n % 5);
            std::this_thread::sleep_for(std::chrono::milliseconds(2));
        }
    });
    std::thread starts([&] {
        for (int n = 0; !done; ++n) {
            std::this_thread::sleep_for(std::chrono::milliseconds(200));
            processor.sessionNow();
        }
    });
    const auto began_ms = juce::Time::getMillisecondCounter();
    const auto lasted_ms = [&] { return juce::Time::getMillisecondCounter() - began_ms; };
    std::uint64_t seen = 0;
    bool ran = false;
    while (lasted_ms() < 3000 || ((seen <= 10 || !ran) && lasted_ms() < 60000)) { // a sanitizer slows all of them
        processor.tick();
        const LiveView pulled = processor.view();
        seen = std::max(seen, pulled.revision);
        ran = ran || pulled.audioRuns;
        processor.resetExtremes();
        processor.unmuteLoop();
        processor.putInSlot(2, std::optional(referencedCoupler("second", 110.0)));
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    done = true;
    for (auto* thread : {&audio, &states, &automation, &starts})
        thread->join();
    CHECK(seen > 10);
    CHECK(ran);
}

TEST_CASE("an instance may end on any thread while its timer runs on the message thread")
{
    for (int n = 0; n < 20; ++n) {
        auto processor = std::make_unique<Processor>();
        processor->prepareToPlay(48000.0, 480);
        std::thread host([&] { processor.reset(); });
        host.join();
        CHECK(processor == nullptr);
    }
}
