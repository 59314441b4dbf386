// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FieldsEditor.h"

#include "Screens/Pen.h"

#include <fmt/format.h>

#include <cmath>

namespace couplet {
namespace {

constexpr const char* labels[FieldsEditor::count] = {"kind", "serial", "microphone", "input", "gain", "allowed age, h"};
constexpr float labelWidth = 104.0f, pitch = 32.0f, fieldHeight = 26.0f;
constexpr int longestField = 400; // characters; far beyond what anybody reads

} // namespace

FieldsEditor::FieldsEditor()
{
    addAndMakeVisible(canvas);
    canvas.setTitle("Fields of the coupler");
    for (std::size_t i = 0; i < count; ++i) {
        fields[i] = std::make_unique<TextField>(labels[i]);
        fields[i]->setInputRestrictions(longestField);
        fields[i]->onReturnKey = [this] { take(); };
        fields[i]->onEscapeKey = [this] { onClose(); };
        addAndMakeVisible(*fields[i]);
    }
    addAndMakeVisible(save);
    addAndMakeVisible(leave);
    save.onClick = [this] { take(); };
    leave.onClick = [this] { onClose(); };
}

void FieldsEditor::edit(const CouplerFields& f)
{
    const std::string texts[count] = {f.kind,  f.serial,   f.microphone,
                                      f.input, f.gainNote, fmt::format("{:g}", f.allowedAge_h)};
    for (std::size_t i = 0; i < count; ++i)
        fields[i]->setWords(texts[i]);
    refusal.clear();
    resized();
    if (fields[0]->isShowing())
        fields[0]->grabKeyboardFocus();
}

void FieldsEditor::take()
{
    CouplerFields next{fields[0]->words(), fields[1]->words(), fields[2]->words(),
                       fields[3]->words(), fields[4]->words(), 0.0};
    auto age = fields[5]->getText().trim().replaceCharacter(',', '.');
    if (age.endsWithChar('h'))
        age = age.dropLastCharacters(1).trim();
    next.allowedAge_h = age.getDoubleValue();
    const bool isNumber = age.isNotEmpty() && age.containsOnly("0123456789.");
    if (!isNumber || !(next.allowedAge_h > 0.0) || !std::isfinite(next.allowedAge_h)) {
        refusal = "The allowed age must be hours above 0, such as 24.";
        return resized();
    }
    refusal.clear();
    if (onFields)
        onFields(next);
}

bool FieldsEditor::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::escapeKey))
        return false;
    onClose();
    return true;
}

void FieldsEditor::resized()
{
    canvas.setBounds(getLocalBounds());
    Pen pen(*fonts);
    const TextStyle label{12.0f, false, colours::grey};
    float y = 0.0f;
    const float width = static_cast<float>(getWidth());
    for (std::size_t i = 0; i < count; ++i) {
        pen.left(labels[i], 0.0f, y + 17.0f, labelWidth, label);
        fields[i]->setBounds(juce::Rectangle<float>(labelWidth, y, width - labelWidth, fieldHeight).toNearestInt());
        y += pitch;
    }
    save.placeLeft(labelWidth, y + 12.0f, 26.0f);
    leave.placeLeft(static_cast<float>(save.getRight()) + 6.0f, y + 12.0f, 26.0f);
    if (!refusal.empty())
        pen.paragraph(refusal, 0.0f, y + 44.0f, width, 17.0f, 2, {13.0f});
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
