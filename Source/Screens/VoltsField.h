// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Units.h"
#include "Screens/Theme.h"

#include <functional>
#include <optional>
#include <string>

// Purpose: a voltage typed with its unit. Return or leaving the field takes it; what is no voltage is refused with a
//          sentence and stays to be mended. An empty field means none.
// Units:   V RMS.
// Thread:  message.
namespace couplet {

class VoltsField : public juce::TextEditor
{
public:
    explicit VoltsField(const std::string& title);

    void show(std::optional<Volts>); // leaves alone what is being typed

    std::function<void(std::optional<Volts>)> onVolts;
    std::function<void(const std::string&)> onRefusal; // empty: nothing is refused any more

    void take(); // as Return does

private:
    juce::SharedResourcePointer<Fonts> fonts;
    juce::String shown;
    bool refused = false;
};

} // namespace couplet
