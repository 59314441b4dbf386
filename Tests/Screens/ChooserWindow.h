// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "IdleControls.h"
#include "IdleLibrary.h"
#include "LibraryStates.h"
#include "Screens/ChooserSheet.h"
#include "ShownTexts.h"
#include "States.h"

#include <catch2/catch.hpp>

// Purpose: a window with a library, whose sheet of couplers is worked by keys as a person would.
namespace couplet::tests {

using Asked = std::vector<std::string>;
using Key = juce::KeyPress;

struct ChooserWindow
{
    IdleControls controls;
    IdleLibrary library;
    MainView view{controls, &library};

    explicit ChooserWindow(const LibraryView& couplers = fiveCouplers())
    {
        view.setVisible(true);
        view.setSize(1100, 720);
        view.show(agreeing());
        view.showLibrary(couplers);
    }
    ChooserSheet& open()
    {
        view.openChooser(true);
        auto* sheet = find<ChooserSheet>(view);
        REQUIRE(sheet != nullptr);
        sheet->picker.usesDesktop = false;
        return *sheet;
    }
    static bool press(juce::Component& c, int code, int modifiers = 0)
    {
        return c.keyPressed(Key(code, juce::ModifierKeys(modifiers), 0));
    }
    static bool command(juce::Component& c, int code) { return press(c, code, juce::ModifierKeys::commandModifier); }
    std::string selectedName() { return find<CouplerDetails>(view) != nullptr ? title() : ""; }

private:
    std::string title()
    {
        for (auto* child : find<CouplerDetails>(view)->getChildren())
            if (auto* canvas = dynamic_cast<Canvas*>(child); canvas != nullptr && !canvas->picture().texts.empty())
                return canvas->picture().texts.front().text;
        return "";
    }
};

} // namespace couplet::tests
