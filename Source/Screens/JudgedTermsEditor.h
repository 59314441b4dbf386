// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Metrology/JudgedTerms.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/Measures.h"
#include "Screens/TextField.h"

#include <array>
#include <functional>

// Purpose: the terms of a budget that are judged and not measured, a line to type each; an empty one stands for what is
//          assumed. What cannot be taken is refused with a sentence and stays to be mended.
// Units:   standard uncertainties, dB; the barometer's in kPa.
// Keys:    Return saves, escape takes back what was typed.
// Thread:  message.
namespace couplet {

class JudgedTermsEditor : public juce::Component
{
public:
    JudgedTermsEditor();

    void show(const JudgedTerms&, bool allowed); // leaves alone what is being typed
    void setMeasures(const Measures& m) { measures = m; }
    void take(); // as Return does
    void takeBack();
    float heightFor(float width) const;
    bool isChanged() const;

    std::function<void(const JudgedTerms&)> onTerms;

    static constexpr std::size_t count = 6;
    TextField& field(std::size_t index) { return *fields[index]; }

    void resized() override;

private:
    float lineHeight() const { return measures.between(26, 32); }

    juce::SharedResourcePointer<Fonts> fonts;
    Measures measures;
    JudgedTerms shown;
    Canvas canvas;
    std::array<std::unique_ptr<TextField>, count> fields;
    Chip save{Chip::Kind::solid, "save", 13.0f}, back{Chip::Kind::link, "take back", 13.0f};
    std::string refusal;
};

} // namespace couplet
