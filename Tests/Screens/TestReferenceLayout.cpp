// SPDX-License-Identifier: GPL-3.0-or-later
#include "IdleControls.h"
#include "Quantities/QuantityText.h"
#include "ReferenceStates.h"
#include "Screens/Chip.h"
#include "Screens/MainView.h"
#include "Screens/ReferenceWords.h"
#include "ShownTexts.h"

#include <catch2/catch.hpp>

#include <functional>

using namespace couplet;

namespace {

struct Size
{
    int width, height;
};

constexpr Size sizes[] = {{760, 520}, {760, 900}, {830, 560}, {1060, 520}, {1100, 720}, {1500, 720}, {2200, 1440}};

// What is worked by hand: two of them on one another cannot both be got at.
std::vector<std::pair<std::string, juce::Rectangle<int>>> handles(juce::Component& window)
{
    std::vector<std::pair<std::string, juce::Rectangle<int>>> all;
    const std::function<void(juce::Component&, juce::Point<int>)> visit = [&](juce::Component& c, juce::Point<int> at) {
        for (auto* child : c.getChildren()) {
            if (!child->isVisible())
                continue;
            const auto place = at + child->getPosition();
            if (dynamic_cast<Chip*>(child) != nullptr || dynamic_cast<juce::TextEditor*>(child) != nullptr)
                all.emplace_back(child->getTitle().toStdString(), child->getLocalBounds() + place);
            else
                visit(*child, place);
        }
    };
    visit(window, {});
    return all;
}

std::vector<std::string> faultsOfHandles(juce::Component& window)
{
    std::vector<std::string> faults;
    const auto all = handles(window);
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j)
            if (all[i].second.reduced(1).intersects(all[j].second.reduced(1)))
                faults.push_back("'" + all[i].first + "' lies on '" + all[j].first + "'");
        if (all[i].second.isEmpty())
            faults.push_back("'" + all[i].first + "' has no room");
    }
    return faults;
}

// A line that is typed in covers no text.
std::vector<std::string> faultsOfFields(juce::Component& window)
{
    std::vector<std::string> faults;
    const std::function<void(juce::Component&, juce::Point<int>)> visit = [&](juce::Component& c, juce::Point<int> at) {
        for (auto* child : c.getChildren()) {
            if (!child->isVisible())
                continue;
            const auto place = at + child->getPosition();
            if (dynamic_cast<juce::TextEditor*>(child) == nullptr) {
                visit(*child, place);
                continue;
            }
            const auto field = (child->getLocalBounds() + place).toFloat().reduced(1.0f);
            for (const auto& text : shownTexts(window))
                if (text.ink.intersects(field))
                    faults.push_back("the field '" + child->getTitle().toStdString() + "' lies on '" + text.text + "'");
        }
    };
    // Without the scale, as shownTexts has it.
    if (window.getNumChildComponents() > 0)
        visit(window, {});
    return faults;
}

} // namespace

TEST_CASE("no text or control of the Reference page is cut or lies on another, in any state at any size")
{
    for (const auto& state : referenceStates())
        for (const auto& size : sizes) {
            IdleControls controls;
            MainView window(controls);
            window.setSize(size.width, size.height);
            show(window, state);
            INFO(state.name << " at " << size.width << " x " << size.height);
            CHECK(faultsOfLayout(window) == std::vector<std::string>{});
            CHECK(faultsOfHandles(window) == std::vector<std::string>{});
            CHECK(faultsOfFields(window) == std::vector<std::string>{});
        }
}

TEST_CASE("every state's sign, offset and reason are there at the smallest size")
{
    for (const auto& state : referenceStates()) {
        if (state.sheet != ReferenceSheet::What::nothing)
            continue;
        IdleControls controls;
        MainView window(controls);
        window.setSize(760, 520);
        show(window, state);
        INFO(state.name);
        const auto sign = state.view.check ? checkSign(*state.view.check) : stateSign(state.view);
        CHECK(shows(window, sign.words));
        if (state.view.offset_dB)
            CHECK(shows(window, signedLevelText(*state.view.offset_dB)));
        std::string all;
        for (const auto& text : shownTexts(window))
            all += text.text + " ";
        for (const auto& sentence : stateSentences(state.view))
            if (!state.view.check)
                CHECK_THAT(all, Catch::Contains(sentence.substr(0, 12)));
    }
}

TEST_CASE("all that has to be known is there at the smallest size when it is opened")
{
    for (const char* name : {"everything", "refused", "done"}) {
        const auto state = referenceState(name);
        IdleControls controls;
        MainView window(controls);
        window.setSize(760, 520);
        show(window, state);
        window.referencePage().openSheet(ReferenceSheet::What::remarks);
        std::string all;
        for (const auto& text : shownTexts(window))
            all += text.text + " ";
        const auto sentences = remarks(state.view);
        CHECK(sentences.size() >= 2);
        for (const auto& sentence : sentences)
            CHECK_THAT(all, Catch::Contains(sentence));
        CHECK(faultsOfLayout(window) == std::vector<std::string>{});
    }
}

TEST_CASE("the Reference page of a window that is drawn over shows what one of that size shows at once")
{
    for (const char* name : {"capturing", "table", "judged"}) {
        const auto state = referenceState(name);
        IdleControls controls;
        MainView resized(controls), fresh(controls);
        resized.setSize(1100, 720);
        show(resized, state);
        resized.setSize(760, 520);
        fresh.setSize(760, 520);
        show(fresh, state);
        const auto before = shownTexts(resized), after = shownTexts(fresh);
        INFO(name);
        REQUIRE(before.size() == after.size());
        for (std::size_t i = 0; i < before.size(); ++i) {
            CHECK(before[i].text == after[i].text);
            CHECK(before[i].ink == after[i].ink);
        }
    }
}
