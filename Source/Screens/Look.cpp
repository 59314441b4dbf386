// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Look.h"

namespace couplet {

Look::Look()
{
    setColour(juce::PopupMenu::backgroundColourId, colours::card);
    setColour(juce::PopupMenu::textColourId, colours::ink);
    setColour(juce::PopupMenu::headerTextColourId, colours::grey);
    setColour(juce::PopupMenu::highlightedBackgroundColourId, colours::ink);
    setColour(juce::PopupMenu::highlightedTextColourId, colours::card);
    setColour(juce::TextEditor::backgroundColourId, colours::card);
    setColour(juce::TextEditor::textColourId, colours::ink);
    setColour(juce::TextEditor::outlineColourId, colours::edge);
    setColour(juce::TextEditor::focusedOutlineColourId, colours::measured);
    setColour(juce::TextEditor::highlightColourId, colours::edge);
    setColour(juce::TextEditor::highlightedTextColourId, colours::ink);
    setColour(juce::CaretComponent::caretColourId, colours::ink);
    setColour(juce::ScrollBar::thumbColourId, colours::grey);
    setColour(juce::TooltipWindow::backgroundColourId, colours::ink);
    setColour(juce::TooltipWindow::textColourId, colours::card);
    setColour(juce::TooltipWindow::outlineColourId, colours::ink);
}

juce::Font Look::getPopupMenuFont()
{
    return fonts->font({14.0f});
}

void Look::drawPopupMenuBackground(juce::Graphics& g, int width, int height)
{
    g.fillAll(colours::card);
    g.setColour(colours::edge);
    g.drawRect(0, 0, width, height);
}

} // namespace couplet
