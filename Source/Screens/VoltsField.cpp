// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/VoltsField.h"

#include "Quantities/QuantityText.h"

namespace couplet {

VoltsField::VoltsField(const std::string& title)
{
    setTitle(juce::String::fromUTF8(title.c_str()));
    setFont(fonts->font({13.0f}));
    setIndents(6, 2);
    setJustification(juce::Justification::centredLeft);
    setTextToShowWhenEmpty("123.2 mV", colours::grey);
    setSelectAllWhenFocused(true);
    onReturnKey = [this] { take(); };
    onFocusLost = [this] { take(); };
    onEscapeKey = [this] {
        setText(shown, false);
        take();
    };
}

void VoltsField::show(std::optional<Volts> voltage)
{
    const auto text = voltage ? juce::String::fromUTF8(voltageText(*voltage).c_str()) : juce::String();
    if (text == shown)
        return;
    shown = text;
    if (!refused && !hasKeyboardFocus(true))
        setText(shown, false);
}

void VoltsField::take()
{
    const auto typed = getText().trim();
    const bool changed = typed != shown;
    std::optional<Volts> voltage;
    std::string refusal;
    if (changed && typed.isNotEmpty()) {
        const auto parsed = parseVolts(typed.toStdString());
        if (parsed)
            voltage = *parsed;
        else
            refusal = parsed.fault().sentence;
    }
    refused = !refusal.empty();
    if (onRefusal)
        onRefusal(refusal);
    if (changed && !refused && onVolts)
        onVolts(voltage);
}

} // namespace couplet
