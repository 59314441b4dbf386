// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "FitStates.h"
#include "IdleControls.h"
#include "IdleFit.h"
#include "ShownTexts.h"
#include "States.h"

#include <catch2/catch.hpp>

// Purpose: a window that shows the Fit page, worked by mouse and keys as a person would.
namespace couplet::tests {

using Asked = std::vector<std::string>;
using Key = juce::KeyPress;

struct FitWindow
{
    IdleControls controls;
    IdleFit fit;
    MainView view{controls};
    juce::String copied, clipboard;

    explicit FitWindow(const NamedFit& state, int width = 1100, int height = 720)
    {
        view.setVisible(true);
        view.setSize(width, height);
        show(view, fit, state);
        page().toClipboard = [this](const juce::String& text) { copied = text; };
        page().fromClipboard = [this] { return clipboard; };
        page().picker.usesDesktop = false;
    }
    explicit FitWindow(const FitView& only) : FitWindow(NamedFit{"", only}) {}

    FitPage& page() { return fitPageOf(view); }
    FitTable& table() { return page().readings.table; }
    FitForm& form() { return page().readings.form; }
    bool shows(const std::string& part) { return couplet::shows(view, part); }
    bool press(const std::string& word) { return couplet::press(view, word); }

    static bool key(juce::Component& c, int code, int modifiers = 0)
    {
        return c.keyPressed(Key(code, juce::ModifierKeys(modifiers), 0));
    }
    static bool command(juce::Component& c, int code) { return key(c, code, juce::ModifierKeys::commandModifier); }

    // As a mouse does to whatever lies at that place of the component, or to the component itself.
    static void click(juce::Component& c, juce::Point<float> at, bool right)
    {
        const auto mods = juce::ModifierKeys(right ? juce::ModifierKeys::rightButtonModifier
                                                   : juce::ModifierKeys::leftButtonModifier);
        c.mouseDown(event(c, at, mods));
    }
    static juce::MouseEvent event(juce::Component& c, juce::Point<float> at, juce::ModifierKeys mods)
    {
        const auto now = juce::Time::getCurrentTime();
        return {juce::Desktop::getInstance().getMainMouseSource(),
                at,
                mods,
                0.0f,
                0.0f,
                0.0f,
                0.0f,
                0.0f,
                &c,
                &c,
                now,
                at,
                now,
                1,
                false};
    }
    // On that row of the table, x pixels from its left.
    void clickRow(std::size_t row, float x, bool right)
    {
        const auto mods = juce::ModifierKeys(right ? juce::ModifierKeys::rightButtonModifier
                                                   : juce::ModifierKeys::leftButtonModifier);
        table().listBoxItemClicked(static_cast<int>(row), event(table(), {x, 5.0f}, mods));
    }
    void type(const std::vector<std::string>& texts)
    {
        for (std::size_t i = 0; i < texts.size(); ++i)
            form().field(i).setWords(texts[i]);
        form().take();
    }
    FitRow rowNamed(const std::string& name)
    {
        for (const auto& row : table().allRows())
            if (fitRowTexts(shown, row).name == name)
                return row;
        FAIL("no row " << name);
        return {};
    }
    FitView shown = sketchedFit();
};

} // namespace couplet::tests
