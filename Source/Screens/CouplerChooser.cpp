// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/CouplerChooser.h"

#include "Screens/Chip.h"
#include "Screens/Lists.h"
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
    onSimulated = view.onSimulatedCoupler;
    const std::string next = couplerWords(view);
    if (next == name && view.couplerSlot == slot && view.simulated == simulated)
        return;
    name = next;
    slot = view.couplerSlot;
    simulated = view.simulated;
    const std::string place = slot > 0 ? fmt::format(", slot {}", slot) : "";
    setTitle(shownText("Coupler: " + name + place));
    setTooltip(shownText(name));
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

juce::PopupMenu CouplerChooser::menu() const
{
    juce::PopupMenu list;
    bool any = false;
    for (std::size_t i = 0; i < names.size(); ++i)
        if (!names[i].empty()) {
            const int number = static_cast<int>(i) + 1;
            list.addItem(1 + number, shownText(fmt::format("{}   {}", number, names[i])), true, number == slot);
            any = true;
        }
    if (!any)
        list.addItem(-1, "no coupler in this session yet: a reference makes one", false);
    list.addSeparator();
    list.addItem(1, "no coupler", true, slot == 0 && !simulated);
    list.addItem(simulatedId, "simulated bench", true, simulated);
    return list;
}

void CouplerChooser::choose(int id)
{
    if (id == simulatedId)
        controls.simulate(!simulated, onSimulated);
    else if (id >= 1 && id <= 1 + static_cast<int>(names.size()))
        controls.chooseCouplerSlot(id - 1);
}

void CouplerChooser::clicked()
{
    openList(menu(), *this, [this](int id) { choose(id); });
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
