// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/CouplerChooser.h"

#include "Screens/Chip.h"
#include "Screens/Words.h"

#include <fmt/format.h>

namespace couplet {
namespace {

juce::String shownText(const std::string& text)
{
    return juce::String::fromUTF8(text.c_str());
}

} // namespace

CouplerChooser::CouplerChooser(Controls& c) : juce::Button("coupler"), controls(c)
{
    setWantsKeyboardFocus(true);
    setMouseCursor(juce::MouseCursor::PointingHandCursor);
}

void CouplerChooser::show(const LiveView& view)
{
    names = view.slotNames;
    const std::string next = couplerWords(view);
    if (next == name && view.couplerSlot == slot)
        return;
    name = next;
    slot = view.couplerSlot;
    const std::string place = slot > 0 ? fmt::format(", slot {}", slot) : "";
    setTitle(shownText("Coupler: " + name + place));
    setTooltip(shownText(name + " (key C opens all)"));
    repaint();
}

Picture CouplerChooser::picture(bool focused) const
{
    Pen pen(*fonts);
    const auto area = getLocalBounds().toFloat();
    pen.box(area.reduced(0.5f), 6.0f, colours::card, colours::edge);
    const float middle = area.getCentreY(), right = area.getRight();
    pen.fill(caret(right - 14.0f, middle, 7.0f), colours::grey);
    const TextStyle small{12.0f, false, colours::grey}, large{area.getHeight() < 30.0f ? 13.0f : 15.0f};
    const std::string place = slot > 0 ? fmt::format("slot {}", slot) : "";
    const float placeRoom = place.empty() ? 0.0f : pen.width("slot 16", small) + 8.0f;
    pen.right(place, right - 28.0f, middle + 4.5f, placeRoom, small);
    const float room = right - 28.0f - placeRoom - 14.0f;
    pen.left(pen.shortened(name, room, large), 14.0f, middle + 0.36f * large.size, room, large);
    if (focused)
        drawFocusRing(pen, area);
    return pen.picture;
}

void CouplerChooser::paintButton(juce::Graphics& g, bool, bool)
{
    picture(hasKeyboardFocus(true)).draw(g, *fonts);
}

void CouplerChooser::clicked()
{
    if (onOpen)
        onOpen();
}

bool CouplerChooser::keyPressed(const juce::KeyPress& key)
{
    if (key.isKeyCode(juce::KeyPress::downKey))
        step(1);
    else if (key.isKeyCode(juce::KeyPress::upKey))
        step(-1);
    else if (key.isKeyCode(juce::KeyPress::spaceKey))
        triggerClick();
    else
        return juce::Button::keyPressed(key);
    return true;
}

void CouplerChooser::step(int direction)
{
    for (int next = slot + direction; next >= 1 && next <= static_cast<int>(names.size()); next += direction)
        if (!names[static_cast<std::size_t>(next - 1)].empty()) {
            controls.chooseCouplerSlot(next);
            return;
        }
}

} // namespace couplet
