// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Editor.h"
#include "ShownTexts.h"

#include <catch2/catch.hpp>

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

TEST_CASE("an editor can be opened and closed again and again")
{
    const std::unique_ptr<juce::AudioProcessor> processor(createPluginFilter());
    for (int i = 0; i < 5; ++i) {
        const std::unique_ptr<juce::AudioProcessorEditor> editor(processor->createEditorIfNeeded());
        CHECK(processor->getActiveEditor() == editor.get());
    }
    CHECK(processor->getActiveEditor() == nullptr);
}
