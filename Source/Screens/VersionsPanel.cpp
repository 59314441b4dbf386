// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/VersionsPanel.h"

#include "Screens/CouplerWords.h"
#include "Screens/Pen.h"

#include <fmt/format.h>

namespace couplet {
namespace {

constexpr int rowHeight = 44;
constexpr float wordsHeight = 18.0f, chipsHeight = 34.0f, chipHeight = 26.0f;

std::string untilText(const VersionsView::Row& row)
{
    return "until " + momentText(row.until);
}

} // namespace

Picture versionRow(const VersionsView::Row& row, bool selected, juce::Point<float> size, const Fonts& fonts)
{
    Pen pen(fonts);
    constexpr float side = 12.0f;
    if (selected) {
        juce::Path body, edge;
        body.addRectangle(0.0f, 0.0f, size.x, size.y - 1.0f);
        edge.addRectangle(0.0f, 0.0f, 4.0f, size.y - 1.0f);
        pen.fill(body, colours::edge.withAlpha(0.55f));
        pen.fill(edge, colours::measured);
    }
    pen.line(0.0f, size.y - 0.5f, size.x, size.y - 0.5f, colours::edge, 1.0f);
    const TextStyle plain{13.0f}, grey{12.0f, false, colours::grey};
    const float top = size.y / 2.0f - 4.0f, bottom = top + 17.0f, right = size.x - side;
    pen.left(pen.shortened(row.change, right - side, plain), side, top, right - side, plain);
    const auto number = fmt::format("version {}", row.number);
    const float numberWidth = pen.width(number, grey);
    pen.right(number, right, bottom, numberWidth + 1.0f, grey);
    const float room = right - side - numberWidth - 12.0f;
    pen.left(pen.shortened(untilText(row), room, grey), side, bottom, room, grey);
    return pen.picture;
}

VersionsPanel::VersionsPanel()
{
    setTitle("Earlier versions of the coupler");
    setWantsKeyboardFocus(true);
    canvas.setTitle("Earlier versions");
    list.setModel(this);
    list.setRowHeight(rowHeight);
    list.setColour(juce::ListBox::backgroundColourId, colours::card);
    list.setColour(juce::ListBox::outlineColourId, colours::edge);
    list.setOutlineThickness(1);
    list.setTitle("Earlier versions");
    addAndMakeVisible(canvas);
    addChildComponent(list);
    addChildComponent(putBack);
    addAndMakeVisible(leave);
    putBack.onClick = [this] { take(); };
    putBack.setTooltip("Return; what stands now becomes a version itself");
    leave.onClick = [this] { onClose(); };
}

VersionsPanel::~VersionsPanel()
{
    list.setModel(nullptr);
}

void VersionsPanel::show(const std::optional<VersionsView>& next)
{
    if (shown == next)
        return;
    const bool isFirst = !shown;
    shown = next;
    list.setVisible(getNumRows() > 0);
    putBack.setVisible(getNumRows() > 0);
    list.updateContent();
    if (getNumRows() > 0 && (isFirst || list.getSelectedRow() < 0))
        list.selectRow(0);
    if (isFirst && isShowing() && hasKeyboardFocus(true) && list.isVisible())
        list.grabKeyboardFocus();
    resized();
}

void VersionsPanel::focusGained(FocusChangeType)
{
    if (list.isVisible())
        list.grabKeyboardFocus();
}

void VersionsPanel::take()
{
    const int row = list.getSelectedRow();
    if (row >= 0 && row < getNumRows())
        onPutBack(shown->rows[static_cast<std::size_t>(row)].number);
}

bool VersionsPanel::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::escapeKey))
        return false;
    onClose();
    return true;
}

std::string VersionsPanel::words() const
{
    if (!shown)
        return "Couplet reads the versions.";
    if (shown->rows.empty() && shown->unreadable.empty())
        return "Nothing was overwritten yet. Couplet keeps the last ten versions that a change replaces.";
    if (shown->rows.empty() || shown->unreadable.empty())
        return shown->rows.empty() ? shown->unreadable.front() : "Put it back as it was before a change.";
    return fmt::format("{} cannot be read.", countText(shown->unreadable.size(), "version"));
}

void VersionsPanel::resized()
{
    canvas.setBounds(getLocalBounds());
    const auto area = getLocalBounds().toFloat();
    if (area.isEmpty())
        return;
    Pen pen(*fonts);
    const TextStyle style{13.0f};
    const float bottom = area.getHeight() - chipsHeight;
    const int most = std::max(1, static_cast<int>(bottom / wordsHeight));
    const int lines = pen.paragraph(words(), 0.0f, 13.0f, area.getWidth(), wordsHeight,
                                    list.isVisible() ? 1 : std::min(most, 5), style);
    const float top = wordsHeight * static_cast<float>(lines) + 4.0f;
    // Whole rows: half a change says nothing.
    const int rows = std::max(1, (static_cast<int>(bottom - top) - 2) / rowHeight);
    list.setBounds(
        juce::Rectangle<float>(0.0f, top, area.getWidth(), static_cast<float>(rows * rowHeight + 2)).toNearestInt());
    const float middle = area.getHeight() - chipHeight / 2.0f - 2.0f;
    putBack.placeLeft(0.0f, middle, chipHeight);
    leave.placeLeft(putBack.isVisible() ? static_cast<float>(putBack.getRight()) + 6.0f : 0.0f, middle, chipHeight);
    canvas.setPicture(std::move(pen.picture));
}

juce::Component* VersionsPanel::refreshComponentForRow(int row, bool selected, juce::Component* before)
{
    auto* rowCanvas = canvasOfRow(before, row >= 0 && row < getNumRows());
    if (rowCanvas == nullptr)
        return nullptr;
    rowCanvas->setTitle(getNameForRow(row));
    const juce::Point<float> size(static_cast<float>(list.getVisibleRowWidth()), static_cast<float>(rowHeight));
    rowCanvas->setPicture(versionRow(shown->rows[static_cast<std::size_t>(row)], selected, size, *fonts));
    return rowCanvas;
}

juce::String VersionsPanel::getNameForRow(int row)
{
    if (row < 0 || row >= getNumRows())
        return {};
    const auto& version = shown->rows[static_cast<std::size_t>(row)];
    return juce::String::fromUTF8(
        fmt::format("version {}, {}: {}", version.number, untilText(version), version.change).c_str());
}

} // namespace couplet
