// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "IdleControls.h"
#include "IdleReferences.h"
#include "ReferenceStates.h"
#include "Screens/MainView.h"
#include "ShownTexts.h"

#include <catch2/catch.hpp>

// Purpose: a window on the Reference page, worked by keys and presses as a person would.
namespace couplet::tests {

using Asked = std::vector<std::string>;
using Key = juce::KeyPress;

struct ReferenceWindow
{
    IdleControls controls;
    IdleReferences references;
    MainView view{controls};

    explicit ReferenceWindow(const NamedReference& state, int width = 1100, int height = 720)
    {
        view.useReferences(&references);
        view.setVisible(true);
        view.setSize(width, height);
        show(view, state);
        page().picker.usesDesktop = false;
    }
    explicit ReferenceWindow(const std::string& name) : ReferenceWindow(referenceState(name)) {}

    ReferencePage& page() { return view.referencePage(); }
    bool key(int code, int modifiers = 0) { return view.keyPressed(Key(code, juce::ModifierKeys(modifiers), 0)); }
    bool command(int code) { return key(code, juce::ModifierKeys::commandModifier); }
    bool shows(const std::string& part) { return couplet::shows(view, part); }
    bool press(const std::string& word) { return couplet::press(view, word); }
};

} // namespace couplet::tests
