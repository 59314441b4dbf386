// SPDX-License-Identifier: GPL-3.0-or-later
//
// Keys and places of ChooserSheet.
#include "Screens/ChooserSheet.h"

#include "Screens/CouplerWords.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

using Key = juce::KeyPress;

// By what is typed, where that is known: some keyboards have digits beyond the shift key.
int digitOf(const juce::KeyPress& key)
{
    if (const auto typed = key.getTextCharacter(); typed >= '0' && typed <= '9')
        return static_cast<int>(typed - '0');
    const int code = key.getKeyCode();
    if (code >= '0' && code <= '9')
        return code - '0';
    if (code >= Key::numberPad0 && code <= Key::numberPad9)
        return code - Key::numberPad0;
    return -1;
}

} // namespace

bool ChooserSheet::keyPressed(const juce::KeyPress& key, juce::Component*)
{
    return keyPressed(key);
}

bool ChooserSheet::keyPressed(const juce::KeyPress& key)
{
    const int page = std::max(1, list.getHeight() / list.getRowHeight() - 1);
    if (key.isKeyCode(Key::downKey))
        move(1);
    else if (key.isKeyCode(Key::upKey))
        move(-1);
    else if (key.isKeyCode(Key::pageDownKey))
        move(page);
    else if (key.isKeyCode(Key::pageUpKey))
        move(-page);
    else if (key.isKeyCode(Key::returnKey))
        take();
    else if (key.isKeyCode(Key::F2Key))
        details.startRename();
    else if (key.isKeyCode(Key::F4Key))
        details.startFields();
    else if (key.isKeyCode(Key::escapeKey) && details.earlier.isVisible())
        details.leaveEditing();
    else if (key.isKeyCode(Key::escapeKey))
        bar.asksForPath() || view.import ? bar.leave() : onClose();
    else
        return commandKey(key) || digitKey(key);
    return true;
}

bool ChooserSheet::commandKey(const juce::KeyPress& key)
{
    if (!key.getModifiers().isCommandDown())
        return false;
    const int code = key.getKeyCode();
    const auto letter = juce::CharacterFunctions::toUpperCase(static_cast<juce::juce_wchar>(code));
    if (letter == 'N')
        makeNew();
    else if (letter == 'O')
        askImport();
    else if (letter == 'S')
        details.askExport();
    else if (letter == 'R')
        details.askResponse();
    else if (letter == 'E')
        details.startVersions();
    else if (letter == 'D')
        details.copy();
    else if (letter == 'Z' && !view.undo.empty())
        library.undo();
    else if (key.isKeyCode(Key::deleteKey))
        details.remove();
    else if (digitOf(key) > 0)
        details.put(digitOf(key));
    else
        return false;
    return true;
}

// Only while nothing is being searched for: names may have digits.
bool ChooserSheet::digitKey(const juce::KeyPress& key)
{
    const int digit = digitOf(key);
    if (digit < 1 || !search.isEmpty() || key.getModifiers().isCommandDown() || key.getModifiers().isAltDown())
        return false;
    const auto isThere = [digit](const CouplerRow& row) { return row.slot == digit; };
    if (std::none_of(view.rows.begin(), view.rows.end(), isThere))
        return false; // then it begins a name
    takeSlot(digit);
    return true;
}

std::string ChooserSheet::countWords() const
{
    if (!view.read)
        return "reading the library";
    const auto all = countText(view.rows.size(), "coupler");
    return search.isEmpty() ? all : fmt::format("{} of {}", found, all);
}

void ChooserSheet::resized()
{
    auto area = getLocalBounds().toFloat();
    if (area.isEmpty())
        return;
    const float margin = measures.margin(), gap = measures.between(8, 12);
    const float row = measures.between(25, 32), height = measures.between(28, 32);
    canvas.setBounds(getLocalBounds());
    const float searchLeft = margin + measures.between(112, 132);
    search.setBounds(
        juce::Rectangle<float>(searchLeft, row - height / 2.0f, measures.between(252, 330), height).toNearestInt());
    float right = area.getWidth() - margin + 5.0f;
    for (Chip* chip : {&close, &exportAll, &import, &add}) {
        chip->placeRight(right, row, 26.0f);
        right = static_cast<float>(chip->getX()) - measures.between(2, 10);
    }
    area.removeFromTop(measures.between(48, 62));
    area.removeFromBottom(measures.between(34, 41));
    area = area.reduced(margin, 0.0f);
    const float barHeight = bar.heightFor(area.getWidth());
    bar.setVisible(barHeight > 0.0f);
    if (barHeight > 0.0f) {
        bar.setBounds(area.removeFromBottom(barHeight).toNearestInt());
        area.removeFromBottom(gap);
    }
    bar.resized();
    const float listWidth = std::round(area.getWidth() * measures.between(0.5f, 0.45f));
    const auto left = area.removeFromLeft(listWidth).toNearestInt();
    // Whole rows: half a name says nothing.
    const int inside = left.getHeight() - 2, rows = std::max(1, inside / CouplerList::leastRowHeight);
    list.setRowHeight(inside / rows);
    list.setBounds(left.withHeight(inside / rows * rows + 2));
    area.removeFromLeft(gap);
    details.setBounds(area.toNearestInt());
    details.resized();
    drawTexts();
}

void ChooserSheet::drawTexts()
{
    Pen pen(*fonts);
    const float margin = measures.margin(), width = static_cast<float>(getWidth());
    const float bottom = static_cast<float>(getHeight());
    const TextStyle head{measures.between(18, 20), true}, plain{measures.between(12, 13), false, colours::grey};
    pen.left("Couplers", margin, measures.between(31, 39), pen.width("Couplers", head), head);
    const float base = bottom - measures.between(14, 16);
    const auto count = countWords();
    const float countWidth = pen.width(count, plain);
    pen.right(count, width - margin, base, countWidth + 1.0f, plain);
    const std::string keys = measures.wide()
                                 ? "Up and down go through the list, Return chooses, a digit takes its slot, "
                                   "F2 renames, escape leaves."
                                 : "Return chooses, a digit takes its slot, escape leaves.";
    const float room = width - 2.0f * margin - countWidth - 16.0f;
    pen.left(pen.shortened(keys, room, plain), margin, base, room, plain);
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
