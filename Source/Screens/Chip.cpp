// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Chip.h"

namespace couplet {
namespace {

constexpr float side = 11.5f, linkSide = 5.0f, caretRoom = 14.0f;

} // namespace

void drawFocusRing(Pen& pen, juce::Rectangle<float> within)
{
    juce::Path light, ring;
    light.addRoundedRectangle(within.reduced(3.0f), 4.0f);
    ring.addRoundedRectangle(within.reduced(1.2f), 5.0f);
    pen.stroke(light, colours::card, 1.2f); // seen on the filled ones
    pen.stroke(ring, colours::measured, 2.0f);
}

Chip::Chip(Kind k, const std::string& t, float s) : juce::Button(juce::String::fromUTF8(t.c_str())), kind(k), size(s)
{
    setText(t);
    setWantsKeyboardFocus(true);
    setMouseCursor(juce::MouseCursor::PointingHandCursor);
}

void Chip::setText(const std::string& t)
{
    if (t == text)
        return;
    text = t;
    setTitle(juce::String::fromUTF8(t.c_str()));
    repaint();
}

void Chip::setSize(float textSize)
{
    if (textSize == size)
        return;
    size = textSize;
    repaint();
}

TextStyle Chip::style() const
{
    const bool filled = kind == Kind::solid || (kind != Kind::opens && getToggleState());
    const auto colour = filled ? colours::card : (kind == Kind::link ? colours::measured : colours::ink);
    return {size, false, isEnabled() ? colour : colours::grey};
}

float Chip::wantedWidth() const
{
    const float margins = 2.0f * (kind == Kind::choice || kind == Kind::solid ? side : linkSide);
    return std::ceil(fonts->width(text, style()) + margins + (kind == Kind::opens ? caretRoom : 0.0f));
}

void Chip::placeLeft(float x, float middle, float height)
{
    setBounds(juce::Rectangle<float>(x, middle - height / 2.0f, wantedWidth(), height).toNearestInt());
}

void Chip::placeRight(float x, float middle, float height)
{
    placeLeft(x - wantedWidth(), middle, height);
}

Picture Chip::picture(bool focused) const
{
    Pen pen(*fonts);
    const auto area = getLocalBounds().toFloat();
    if (kind == Kind::solid || (kind != Kind::opens && getToggleState())) {
        juce::Path body;
        body.addRoundedRectangle(area, 6.0f);
        pen.fill(body, isEnabled() ? colours::ink : colours::edge);
    }
    const float baseline = area.getCentreY() + 0.36f * size;
    if (kind == Kind::opens) {
        pen.left(text, linkSide, baseline, area.getWidth() - caretRoom - linkSide, style());
        pen.fill(caret(area.getRight() - linkSide - 4.0f, area.getCentreY(), 7.0f), colours::grey);
    }
    else {
        pen.centre(text, area.getCentreX(), baseline, area.getWidth() - 2.0f, style());
    }
    if (focused)
        drawFocusRing(pen, area);
    return pen.picture;
}

void Chip::paintButton(juce::Graphics& g, bool highlighted, bool down)
{
    if ((highlighted || down) && !getToggleState() && kind != Kind::solid) {
        g.setColour(colours::edge.withAlpha(down ? 0.9f : 0.5f));
        g.fillRoundedRectangle(getLocalBounds().toFloat(), 6.0f);
    }
    picture(hasKeyboardFocus(true)).draw(g, *fonts);
}

bool Chip::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::spaceKey))
        return juce::Button::keyPressed(key);
    triggerClick();
    return true;
}

} // namespace couplet
