// SPDX-License-Identifier: GPL-3.0-or-later
//
// Everything at once, as hosts do it: of most use under the thread sanitizer (-DCOUPLET_SANITIZE=thread).
#include "Plugin/ClosedLoop.h"
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

TEST_CASE("a host may prepare while audio runs")
{
    Processor processor;
    processor.prepareToPlay(48000.0, 480);
    std::atomic<bool> done{false};
    std::atomic<int> blocks{0};
    std::thread audio([&] {
        juce::AudioBuffer<float> buffer(2, 480);
        juce::MidiBuffer midi;
        for (int n = 0; !done; ++n, ++blocks) {
            const float amplitude = 0.01f * static_cast<float>(1 + n % 60); // it rises: the guard looks at its lines
            for (int i = 0; i < 480; ++i)
                for (int c = 0; c < 2; ++c)
                    buffer.setSample(c, i, amplitude * static_cast<float>(std::sin(0.1309 * i)));
            processor.processBlock(buffer, midi);
            std::this_thread::yield();
        }
    });
    constexpr double rates_Hz[] = {8000.0, 384000.0, 44100.0, 1000.0, 96000.0};
    const auto began_ms = juce::Time::getMillisecondCounter();
    for (std::size_t n = 0; n < 50 || (blocks < 200 && juce::Time::getMillisecondCounter() < began_ms + 60000); ++n)
        processor.prepareToPlay(rates_Hz[n % std::size(rates_Hz)], 480);
    done = true;
    audio.join();
    CHECK(blocks >= 200);
}

TEST_CASE("a guard that is prepared again and again while it is fed watches on after that")
{
    LoopGuard guard;
    guard.prepare(48000.0);
    std::atomic<bool> done{false};
    std::thread host([&] {
        for (int n = 0; !done; ++n)
            guard.prepare(n % 2 == 0 ? 384000.0 : 8000.0);
        guard.prepare(48000.0);
    });
    std::vector<float> block(480);
    float* channels[] = {block.data()};
    std::int64_t played = 0;
    const auto play = [&](double level_dBFS) {
        for (float& x : block)
            x = static_cast<float>(ratioFrom_dB(level_dBFS) * std::sin(0.1309 * static_cast<double>(played++)));
        guard.process(channels, 1, 480);
    };
    for (int n = 0; n < 20000; ++n)
        play(-40.0 + 0.02 * (n % 100));
    done = true;
    host.join();
    CHECK_FALSE(guard.muted());
    ClosedLoop loop(480);
    for (int n = 0; n < 500; ++n) {
        loop.hear(block.data());
        guard.process(channels, 1, 480);
        loop.play(block.data());
    }
    CHECK(guard.muted());
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
