// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitTextPanel.h"

namespace couplet {
namespace {

constexpr float inset = 16.0f;

} // namespace

FitTextPanel::FitTextPanel(const std::string& t) : text(t), title(t)
{
    addAndMakeVisible(heading);
    addAndMakeVisible(scroll);
    addAndMakeVisible(close);
    heading.setTitle(juce::String::fromUTF8(("Heading: " + t).c_str()));
    scroll.setViewedComponent(&text, false);
    scroll.setScrollBarsShown(true, false);
    scroll.setScrollBarThickness(9);
    close.setTooltip("escape");
    close.onClick = [this] { onClose(); };
    text.onChosen = [this](juce::Rectangle<float> area) {
        const int top = juce::roundToInt(area.getY()) - 30, bottom = juce::roundToInt(area.getBottom()) + 30;
        if (top < scroll.getViewPositionY())
            scroll.setViewPosition(0, juce::jmax(0, top));
        else if (bottom > scroll.getViewPositionY() + scroll.getViewHeight())
            scroll.setViewPosition(0, bottom - scroll.getViewHeight());
    };
}

FitTextPanel::~FitTextPanel()
{
    scroll.setViewedComponent(nullptr, false);
}

void FitTextPanel::show(std::vector<FitParagraph> next, const Measures& m)
{
    paragraphs = std::move(next);
    measures = m;
    resized();
}

void FitTextPanel::setHeadRoom(float room)
{
    headRoom = room;
}

void FitTextPanel::resized()
{
    auto area = getLocalBounds();
    if (area.isEmpty())
        return;
    const float base = measures.between(17, 24);
    heading.setBounds(area.withHeight(juce::roundToInt(base + 8.0f)));
    close.setSize(measures.between(12, 13));
    close.placeRight(static_cast<float>(getWidth()) - inset + 5.0f, base - 4.0f, 20.0f);
    Pen pen(*fonts);
    const TextStyle grey{measures.between(11, 12), false, colours::grey};
    const float room = static_cast<float>(close.getX()) - inset - 8.0f;
    pen.left(pen.shortened(title, room, grey), inset, base, room, grey);
    heading.setPicture(std::move(pen.picture));
    area.removeFromTop(juce::roundToInt(base + 8.0f + headRoom));
    scroll.setBounds(area.withTrimmedBottom(6));
    draw();
}

void FitTextPanel::draw()
{
    Pen pen(*fonts);
    const TextStyle plain{measures.between(12, 13)}, head{measures.between(12, 13), true};
    const float width = static_cast<float>(scroll.getWidth()) - 10.0f, pitch = plain.size + measures.between(3, 5);
    float y = plain.size + 2.0f;
    for (const auto& paragraph : paragraphs) {
        const auto& style = paragraph.heading ? head : plain;
        const float left = inset + (paragraph.heading ? 0.0f : 10.0f), room = width - left - inset + 6.0f;
        if (paragraph.heading && y > 2.0f * plain.size)
            y += 5.0f;
        if (!paragraph.heading)
            pen.mark(Mark::silent, inset, y - 0.34f * plain.size, 6.0f, colours::grey);
        y += pitch * static_cast<float>(pen.paragraph(paragraph.text, left, y, room, pitch, 1000, style)) + 2.0f;
    }
    const int height = juce::roundToInt(y - pitch + 8.0f);
    text.setSize(juce::roundToInt(width), juce::jmax(height, 1));
    text.setPicture(std::move(pen.picture));
}

bool FitTextPanel::keyPressed(const juce::KeyPress& key)
{
    if (key.isKeyCode(juce::KeyPress::escapeKey))
        onClose();
    else if (key.isKeyCode(juce::KeyPress::downKey) || key.isKeyCode(juce::KeyPress::pageDownKey))
        scroll.setViewPosition(0, scroll.getViewPositionY() + scroll.getViewHeight() / 2);
    else if (key.isKeyCode(juce::KeyPress::upKey) || key.isKeyCode(juce::KeyPress::pageUpKey))
        scroll.setViewPosition(0, juce::jmax(0, scroll.getViewPositionY() - scroll.getViewHeight() / 2));
    else
        return false;
    return true;
}

} // namespace couplet
