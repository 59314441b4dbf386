// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Quantities/Outcome.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/Measures.h"
#include "Screens/TextField.h"

#include <functional>
#include <memory>
#include <string>
#include <vector>

// Purpose: asks for one thing or a few by typing, below the fit's table. What cannot be taken is refused with a sentence
//          and stays to be mended.
// Keys:    Return takes, escape leaves.
// Thread:  message.
namespace couplet {

struct FitQuestion
{
    struct Field
    {
        std::string label, text, hint;
    };
    std::string title;
    std::vector<Field> fields; // at least one
    std::string note = {};     // below them, until something is refused
    // Given what was typed; answers with a refusal, or nothing when it was taken.
    std::function<std::string(const std::vector<std::string>&)> take;
    bool again = false;    // stays open for another of the kind
    std::size_t first = 0; // the field that is typed in first
};

class FitForm : public juce::Component
{
public:
    FitForm();

    void ask(FitQuestion);
    void leave();
    bool isAsking() const { return !question.fields.empty(); }
    void setMeasures(const Measures& m) { measures = m; }
    float heightFor(float width) const; // 0: nothing is asked
    std::function<void()> onHeight;
    std::function<void()> onLeave;

    TextField& field(std::size_t index) { return *fields[index]; }
    std::size_t fieldCount() const { return fields.size(); }
    void take(); // as Return does

    void resized() override;

private:
    float rows() const;
    float heightBelow(float width) const;

    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    std::vector<std::unique_ptr<TextField>> fields;
    Chip save{Chip::Kind::solid, "save", 13.0f}, away{Chip::Kind::link, "leave", 13.0f};
    FitQuestion question;
    std::string refusal;
    const std::string& wordsBelow() const { return refusal.empty() ? question.note : refusal; }
    Measures measures;
};

// "115.29", "115,29 dB", "−0.3": a level or a difference, -200 to 300 dB.
Outcome<double> typedDecibels(const std::string&);

} // namespace couplet
