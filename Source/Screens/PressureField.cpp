// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/PressureField.h"

#include "Quantities/QuantityText.h"

#include <fmt/format.h>

namespace couplet {
namespace {

constexpr double least_kPa = 50.0, most_kPa = 120.0; // as the offset's arithmetic has it

Outcome<Kilopascals> pressureOf(const juce::String& typed)
{
    const bool plain = typed.containsOnly("0123456789.");
    const auto parsed = parseKilopascals((plain ? typed + " kPa" : typed).toStdString());
    if (parsed && !(parsed->value >= least_kPa && parsed->value <= most_kPa))
        return Fault{fmt::format("{:.4g} kPa is outside 50 to 120 kPa: read the barometer again", parsed->value)};
    return parsed;
}

} // namespace

PressureField::PressureField() : TextField("Static pressure, kPa", 12.0f)
{
    setHint("kPa");
    setInputRestrictions(24);
    setTooltip("as a barometer reads it here, not reduced to sea level; hPa is understood too");
    onReturnKey = [this] { take(); };
    onFocusLost = [this] { take(); };
    onEscapeKey = [this] {
        setWords(shown);
        take();
    };
}

void PressureField::show(std::optional<Kilopascals> pressure)
{
    const auto text = pressure ? fmt::format("{:.5g} kPa", pressure->value) : std::string();
    if (text == shown)
        return;
    shown = text;
    if (!refused && !hasKeyboardFocus(true))
        setWords(shown);
}

void PressureField::take()
{
    const auto typed = getText().trim().replaceCharacter(',', '.');
    const bool changed = typed.toStdString() != shown;
    std::optional<Kilopascals> pressure;
    std::string refusal;
    if (changed && typed.isNotEmpty()) {
        const auto parsed = pressureOf(typed);
        if (parsed)
            pressure = *parsed;
        else
            refusal = parsed.fault().sentence;
    }
    const bool said = refused || !refusal.empty();
    refused = !refusal.empty();
    if (said && onRefusal)
        onRefusal(refusal);
    if (changed && !refused && onPressure)
        onPressure(pressure);
}

} // namespace couplet
