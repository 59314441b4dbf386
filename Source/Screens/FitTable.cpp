// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitTable.h"

#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/NumberCanvas.h"

#include <algorithm>

namespace couplet {
namespace {

using What = FitRow::What;

constexpr float triangleEnds = 14.0f;
constexpr int scrollBar = 9;

} // namespace

FitTable::FitTable(const FitView& v) : juce::ListBox("readings", nullptr), view(v)
{
    setModel(this);
    setColour(juce::ListBox::backgroundColourId, colours::card);
    setOutlineThickness(0);
    getViewport()->setScrollBarThickness(scrollBar);
    setTitle("Fittings, readings and earphones");
}

FitTable::~FitTable()
{
    setModel(nullptr);
}

void FitTable::show(const Measures& m)
{
    const bool moved = !(view.target == shownTarget);
    shownTarget = view.target;
    measures = m;
    setRowHeight(juce::roundToInt(measures.between(23, 28)));
    refill();
    if (moved)
        select({view.target.kind == FitKind::fitting    ? What::fitting
                : view.target.kind == FitKind::earphone ? What::earphone
                                                        : What::through,
                view.target, 0});
}

// What was selected stays so as long as it is there.
void FitTable::refill()
{
    const auto* before = selectedRow();
    const std::optional<FitRow> kept = before != nullptr ? std::optional(*before) : std::nullopt;
    rows = fitRows(view, opened);
    filling = true;
    updateContent();
    if (kept)
        select(*kept);
    filling = false;
    if (onRows)
        onRows();
}

const FitRow* FitTable::selectedRow() const
{
    const int row = getSelectedRow();
    return row >= 0 && row < static_cast<int>(rows.size()) ? &rows[static_cast<std::size_t>(row)] : nullptr;
}

void FitTable::select(const FitRow& wanted)
{
    auto found = std::find(rows.begin(), rows.end(), wanted);
    if (found == rows.end() && isSingle(wanted)) // its group was closed, or it is gone
        found = std::find_if(rows.begin(), rows.end(), [&](const FitRow& r) { return r.target == wanted.target; });
    const bool before = filling;
    filling = true; // nobody chose it here
    if (found == rows.end())
        deselectAllRows();
    else if (getSelectedRow() != static_cast<int>(found - rows.begin()))
        selectRow(static_cast<int>(found - rows.begin()));
    filling = before;
}

void FitTable::toggle(const FitTarget& target)
{
    const auto* group = groupOf(view, target);
    const auto* earphone = earphoneOf(view, target);
    if (group == nullptr && earphone == nullptr)
        return;
    const std::pair<FitKind, std::string> key(target.kind, group != nullptr ? group->name : earphone->name);
    if (const auto found = std::find(opened.begin(), opened.end(), key); found != opened.end())
        opened.erase(found);
    else
        opened.push_back(key);
    refill();
}

void FitTable::renamed(const FitTarget& target, const std::string& name)
{
    if (isOpened(view, opened, target))
        opened.emplace_back(target.kind, name);
}

// Told before the framework has placed its bar, so that the columns' names stand above them at once.
float FitTable::rowWidth() const
{
    const bool scrolls = static_cast<int>(rows.size()) * getRowHeight() > getHeight();
    return static_cast<float>(getWidth() - (scrolls ? scrollBar : 0));
}

Picture FitTable::pictureOf(std::size_t index) const
{
    const auto& row = rows[index];
    FitRowLook look;
    look.target = !isSingle(row) && row.target == view.target;
    look.opened = isOpened(view, opened, row.target);
    look.firstOfItsKind = row.what == What::through && index > 0;
    const juce::Point<float> size(rowWidth(), static_cast<float>(getRowHeight()));
    return fitRowPicture(fitRowTexts(view, row), row, look, size, measures, *fonts);
}

juce::Component* FitTable::refreshComponentForRow(int row, bool isChosen, juce::Component* before)
{
    auto* canvas = canvasOfRow(before, row >= 0 && row < getNumRows());
    if (canvas == nullptr)
        return nullptr;
    const auto index = static_cast<std::size_t>(row);
    auto picture = pictureOf(index);
    if (isChosen && hasKeyboardFocus(true)) {
        const auto numbers = numbersIn(picture, *fonts);
        if (cell >= 0 && cell < static_cast<int>(numbers.size()))
            ringNumber(picture, numbers[static_cast<std::size_t>(cell)]);
        else {
            Pen pen(*fonts);
            drawFocusRing(pen, {rowWidth(), static_cast<float>(getRowHeight())});
            picture.shapes.insert(picture.shapes.end(), pen.picture.shapes.begin(), pen.picture.shapes.end());
        }
    }
    canvas->setTitle(getNameForRow(row));
    canvas->setPicture(std::move(picture));
    return canvas;
}

void FitTable::selectedRowsChanged(int)
{
    cell = -1;
    // A right click copies, and sends the next reading nowhere else.
    if (!filling && onSelect && !juce::ModifierKeys::currentModifiers.isPopupMenu())
        onSelect();
}

void FitTable::listBoxItemClicked(int row, const juce::MouseEvent& event)
{
    if (row < 0 || row >= getNumRows())
        return;
    const auto index = static_cast<std::size_t>(row);
    if (event.mods.isPopupMenu()) {
        const auto point = event.position.withY(static_cast<float>(getRowHeight()) / 2.0f);
        if (const auto number = numberAt(pictureOf(index), point, *fonts); number && onCopy)
            onCopy(number->text);
        return;
    }
    if (event.position.x < triangleEnds && !isSingle(rows[index]))
        toggle(rows[index].target);
}

void FitTable::listBoxItemDoubleClicked(int row, const juce::MouseEvent& event)
{
    if (event.position.x >= triangleEnds) // a click there opens already
        returnKeyPressed(row);
}

void FitTable::returnKeyPressed(int)
{
    const auto* row = selectedRow();
    if (row == nullptr)
        return;
    if (!isSingle(*row))
        toggle(row->target);
    else if (row->what == What::reading && onCorrect)
        onCorrect();
}

void FitTable::deleteKeyPressed(int)
{
    if (selectedRow() != nullptr && onDelete)
        onDelete();
}

void FitTable::stepCell(int by)
{
    if (getSelectedRow() < 0)
        return;
    const int count = static_cast<int>(numbersIn(pictureOf(static_cast<std::size_t>(getSelectedRow())), *fonts).size());
    cell = std::clamp(cell + by, -1, count - 1);
    updateContent();
}

void FitTable::copySelected()
{
    if (getSelectedRow() < 0 || !onCopy)
        return;
    const auto numbers = numbersIn(pictureOf(static_cast<std::size_t>(getSelectedRow())), *fonts);
    if (cell >= 0 && cell < static_cast<int>(numbers.size()))
        return onCopy(numbers[static_cast<std::size_t>(cell)].text);
    std::string all;
    for (const auto& number : numbers)
        all += (all.empty() ? "" : "\t") + number.text;
    if (!all.empty())
        onCopy(all);
}

bool FitTable::keyPressed(const juce::KeyPress& key)
{
    if (key.isKeyCode(juce::KeyPress::rightKey))
        stepCell(1);
    else if (key.isKeyCode(juce::KeyPress::leftKey))
        stepCell(-1);
    else if (isCopyKey(key))
        copySelected();
    else
        return juce::ListBox::keyPressed(key);
    return true;
}

juce::String FitTable::getNameForRow(int row)
{
    if (row < 0 || row >= getNumRows())
        return {};
    return juce::String::fromUTF8(fitRowSpoken(view, rows[static_cast<std::size_t>(row)]).c_str());
}

} // namespace couplet
