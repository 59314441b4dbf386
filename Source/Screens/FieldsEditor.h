// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/LibraryView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/TextField.h"

#include <array>
#include <functional>

// Purpose: what a person may change of a coupler by hand, a line to type each. What cannot be taken is refused with a
//          sentence and stays to be mended.
// Units:   allowed age in hours.
// Thread:  message.
namespace couplet {

class FieldsEditor : public juce::Component
{
public:
    FieldsEditor();

    void edit(const CouplerFields&);
    void take(); // as Return does

    std::function<void(const CouplerFields&)> onFields;
    std::function<void()> onClose;

    static constexpr std::size_t count = 6;
    TextField& field(std::size_t index) { return *fields[index]; }

    void resized() override;
    bool keyPressed(const juce::KeyPress&) override; // escape leaves

private:
    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    std::array<std::unique_ptr<TextField>, count> fields;
    Chip save{Chip::Kind::solid, "save", 13.0f}, leave{Chip::Kind::link, "leave", 13.0f};
    std::string refusal;
};

} // namespace couplet
