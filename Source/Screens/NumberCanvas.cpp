// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/NumberCanvas.h"

#include "Screens/Chip.h"

#include <algorithm>

namespace couplet {

bool isCopyKey(const juce::KeyPress& key)
{
    const auto letter = juce::CharacterFunctions::toUpperCase(static_cast<juce::juce_wchar>(key.getKeyCode()));
    return letter == 'C' && key.getModifiers().isCommandDown();
}

NumberCanvas::NumberCanvas(const std::string& title)
{
    addAndMakeVisible(canvas);
    canvas.setTitle(juce::String::fromUTF8(title.c_str()));
    setTitle(juce::String::fromUTF8(title.c_str()));
    setWantsKeyboardFocus(true);
}

void NumberCanvas::setPicture(Picture next)
{
    if (next == plain)
        return;
    plain = std::move(next);
    numbers = numbersIn(plain, *fonts);
    chosen = numbers.empty() ? 0 : std::min(chosen, numbers.size() - 1);
    draw();
}

const DrawnNumber* NumberCanvas::chosenNumber() const
{
    return chosen < numbers.size() ? &numbers[chosen] : nullptr;
}

void NumberCanvas::draw()
{
    Picture picture = plain;
    if (hasKeyboardFocus(true)) {
        if (const auto* number = chosenNumber())
            ringNumber(picture, *number);
        else {
            Pen pen(*fonts);
            drawFocusRing(pen, getLocalBounds().toFloat());
            picture.shapes.insert(picture.shapes.end(), pen.picture.shapes.begin(), pen.picture.shapes.end());
        }
    }
    canvas.setPicture(std::move(picture));
}

void NumberCanvas::step(int by)
{
    if (numbers.empty())
        return;
    const int last = static_cast<int>(numbers.size()) - 1;
    chosen = static_cast<std::size_t>(std::clamp(static_cast<int>(chosen) + by, 0, last));
    draw();
    if (onChosen)
        onChosen(numbers[chosen].area);
}

void NumberCanvas::mouseDown(const juce::MouseEvent& event)
{
    if (!event.mods.isPopupMenu())
        return;
    if (const auto number = numberAt(plain, event.position, *fonts); number && onCopy)
        onCopy(number->text);
}

bool NumberCanvas::keyPressed(const juce::KeyPress& key)
{
    if (key.isKeyCode(juce::KeyPress::rightKey))
        step(1);
    else if (key.isKeyCode(juce::KeyPress::leftKey))
        step(-1);
    else if (isCopyKey(key) && chosenNumber() != nullptr && onCopy)
        onCopy(chosenNumber()->text);
    else
        return false;
    return true;
}

} // namespace couplet
