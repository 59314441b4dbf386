// SPDX-License-Identifier: GPL-3.0-or-later
//
// Keeper and desk beside everything else: of most use under the thread sanitizer (-DCOUPLET_SANITIZE=thread).
#include "Plugin/LibraryRig.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <thread>

using namespace couplet;
using namespace couplet::tests;

TEST_CASE("what was asked for is done even when the instance ends at once, on any thread")
{
    LibraryRig rig;
    for (int n = 0; n < 12; ++n) {
        const auto name = "coupler " + std::to_string(n);
        REQUIRE(rig.folder.save(referencedCoupler(name, 100.0 + n)));
        rig.start();
        rig.desk().rename(name, name + " renamed");
        rig.desk().copy(name + " renamed");
        std::thread host([&] { rig.processor.reset(); });
        host.join();
        CHECK(rig.folder.holdsCoupler(name + " renamed"));
        CHECK(rig.folder.holdsCoupler(name + " renamed copy"));
    }
}

TEST_CASE("keeper, desk, audio and state calls go on at once while the library changes")
{
    LibraryRig rig;
    rig.start();
    rig.processor->prepareToPlay(48000.0, 480);
    std::atomic<bool> ends{false};
    std::thread audio([&] {
        juce::AudioBuffer<float> buffer(2, 480);
        juce::MidiBuffer midi;
        while (!ends) {
            buffer.clear();
            rig.processor->processBlock(buffer, midi);
            std::this_thread::yield();
        }
    });
    std::thread states([&] {
        while (!ends) {
            const auto text = rig.state();
            rig.restore(text);
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
    });
    std::atomic<int> refusals{0};
    std::thread program([&] {
        for (int n = 0; !ends; ++n) {
            if (!rig.folder.save(inSlot(referencedCoupler("elsewhere", 100.0 + n % 7), 1)))
                ++refusals;
            std::this_thread::sleep_for(std::chrono::milliseconds(20));
        }
    });
    std::thread instances([&] {
        while (!ends)
            const Processor another;
    });
    const auto end = juce::Time::getMillisecondCounter() + 2500;
    while (juce::Time::getMillisecondCounter() < end) {
        if (!rig.view().busy) { // a slow disk is not asked for more than it can do
            rig.desk().make("Bare microphone");
            rig.desk().putInSlot("elsewhere", 2);
            rig.desk().rename("Bare microphone", "renamed");
            rig.desk().undo();
        }
        rig.processor->tick();
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    ends = true;
    for (auto* thread : {&audio, &states, &program, &instances})
        thread->join();
    CHECK(refusals == 0);
    CHECK(rig.done());
    CHECK(rig.row("elsewhere") != nullptr);
}
