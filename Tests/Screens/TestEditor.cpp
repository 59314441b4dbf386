// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Editor.h"
#include "ShownTexts.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <chrono>
#include <cmath>
#include <thread>

using namespace couplet;

juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter();

TEST_CASE("the plugin's editor shows the page without audio, within its limits of size")
{
    const std::unique_ptr<juce::AudioProcessor> processor(createPluginFilter());
    const std::unique_ptr<juce::AudioProcessorEditor> editor(processor->createEditorIfNeeded());
    REQUIRE(dynamic_cast<Editor*>(editor.get()) != nullptr);
    CHECK(editor->getWidth() == 1100);
    CHECK(editor->getHeight() == 720);
    CHECK(shows(*editor, "no audio"));
    CHECK(shows(*editor, "do not monitor this track"));
    CHECK(editor->getConstrainer()->getMinimumWidth() == 760);
    CHECK(editor->getConstrainer()->getMaximumHeight() == 1440);
    for (const auto width : {300, 760, 2200}) {
        editor->setSize(width, width * 52 / 76);
        CHECK(faultsOfLayout(*find<MainView>(*editor)) == std::vector<std::string>{});
    }
}

TEST_CASE("the plugin's editor shows what its engine of references says")
{
    const std::unique_ptr<juce::AudioProcessor> processor(createPluginFilter());
    auto& engine = static_cast<Processor&>(*processor);
    for (int i = 0; i < 10; ++i)
        engine.tick();
    const std::unique_ptr<juce::AudioProcessorEditor> editor(processor->createEditorIfNeeded());
    auto* window = find<MainView>(*editor);
    REQUIRE(window != nullptr);
    window->openPage(1);
    CHECK(shows(*editor, "No coupler is chosen"));
    CHECK(window->keyPressed(juce::KeyPress('4')));
    CHECK(engine.referenceView().seatingsWanted == 4);
}

TEST_CASE("an editor can be opened and closed again and again")
{
    const std::unique_ptr<juce::AudioProcessor> processor(createPluginFilter());
    for (int i = 0; i < 5; ++i) {
        const std::unique_ptr<juce::AudioProcessorEditor> editor(processor->createEditorIfNeeded());
        CHECK(processor->getActiveEditor() == editor.get());
    }
    CHECK(processor->getActiveEditor() == nullptr);
}

TEST_CASE("the editor opens, draws and closes while audio and state calls go on")
{
    // Of most use under the thread sanitizer (-DCOUPLET_SANITIZE=thread).
    const std::unique_ptr<juce::AudioProcessor> processor(createPluginFilter());
    processor->setPlayConfigDetails(2, 2, 48000.0, 480);
    processor->prepareToPlay(48000.0, 480);
    std::atomic<bool> done{false};
    std::thread audio([&] {
        juce::AudioBuffer<float> buffer(2, 480);
        juce::MidiBuffer midi;
        for (double phase = 0.0; !done;) {
            for (int i = 0; i < 480; ++i, phase += 0.1309)
                for (int c = 0; c < 2; ++c)
                    buffer.setSample(c, i, static_cast<float>(0.1 * std::sin(phase)));
            processor->processBlock(buffer, midi);
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
    });
    std::thread states([&] {
        while (!done) {
            juce::MemoryBlock block;
            processor->getStateInformation(block);
            processor->setStateInformation(block.getData(), static_cast<int>(block.getSize()));
            std::this_thread::sleep_for(std::chrono::milliseconds(3));
        }
    });
    int levels = 0;
    for (int n = 0; n < 30; ++n) {
        const std::unique_ptr<juce::AudioProcessorEditor> editor(processor->createEditorIfNeeded());
        const auto picture = editor->createComponentSnapshot(editor->getLocalBounds());
        CHECK(picture.getWidth() == editor->getWidth());
        static_cast<Processor&>(*processor).tick();
        levels += shows(*editor, "dBFS") ? 1 : 0;
        std::this_thread::sleep_for(std::chrono::milliseconds(30));
    }
    done = true;
    audio.join();
    states.join();
    CHECK(levels > 5);
}
