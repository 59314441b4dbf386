// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ReferenceSheet.h"

#include "Screens/BudgetPicture.h"
#include "Screens/Pen.h"
#include "Screens/ReferenceBudgetCard.h"
#include "Screens/ReferenceWords.h"

namespace couplet {
namespace {

void add(Picture& to, Picture from, float x, float y)
{
    for (auto& shape : from.shapes) {
        shape.path.applyTransform(juce::AffineTransform::translation(x, y));
        to.shapes.push_back(std::move(shape));
    }
    for (auto& text : from.texts) {
        text.room.translate(x, y);
        to.texts.push_back(std::move(text));
    }
}

} // namespace

ReferenceSheet::ReferenceSheet()
{
    setOpaque(true);
    addAndMakeVisible(canvas);
    addChildComponent(table);
    addChildComponent(aside);
    addChildComponent(terms);
    addChildComponent(save);
    addAndMakeVisible(close);
    close.setTooltip("escape");
    save.setTooltip("the whole history as a table for other programs (Ctrl+S)");
    close.onClick = [this] { onClose(); };
    save.onClick = [this] { onExport(); };
    table.onSelect = [this](std::size_t index) { onSelect(index); };
    table.onDelete = [this] { aside.start(); };
    aside.onEditing = [this] { draw(); };
}

void ReferenceSheet::open(What next)
{
    shown = next;
    setTitle(juce::String::fromUTF8(title().c_str()));
    canvas.setTitle(getTitle());
    draw();
    if (!isShowing())
        return;
    if (shown == What::history)
        table.grabKeyboardFocus();
    else if (shown == What::budget)
        terms.field(0).grabKeyboardFocus();
    else
        close.grabKeyboardFocus();
}

void ReferenceSheet::show(const ReferenceView& next, std::optional<std::size_t> s)
{
    view = next;
    selected = s;
    draw();
}

void ReferenceSheet::setMeasures(const Measures& m)
{
    measures = m;
    terms.setMeasures(m);
}

bool ReferenceSheet::keyPressed(const juce::KeyPress& key)
{
    if (key.isKeyCode(juce::KeyPress::escapeKey))
        onClose();
    else if (key.isKeyCode(juce::KeyPress::deleteKey) && shown == What::history && !aside.edits())
        aside.start();
    else
        return false;
    return true;
}

std::string ReferenceSheet::title() const
{
    switch (shown) {
    case What::history:
        return historyTitle(view.history);
    case What::budget:
        return budgetTitle(view);
    case What::remarks:
        return "What else has to be known";
    case What::nothing:
        break;
    }
    return {};
}

void ReferenceSheet::draw()
{
    if (getWidth() <= 0 || shown == What::nothing)
        return;
    canvas.setBounds(getLocalBounds());
    Pen pen(*fonts);
    const float width = static_cast<float>(getWidth()), base = measures.between(18, 26);
    const TextStyle head{measures.between(14, 16), true}, grey{measures.between(11.5f, 13), false, colours::grey};
    table.setVisible(shown == What::history);
    aside.setVisible(shown == What::history);
    save.setVisible(shown == What::history);
    terms.setVisible(shown == What::budget);
    close.setSize(grey.size);
    close.placeRight(width + 5.0f, base - 0.36f * head.size, measures.between(20, 24));
    const auto words = pen.shortened(title(), width - 80.0f, head);
    pen.left(words, 0.0f, base, width - 80.0f, head);
    // A capture goes on below the sheet.
    const auto running = view.canCancel ? stateSign(view).words + "   " + view.progressText : std::string();
    const float room = static_cast<float>(close.getX()) - 14.0f - pen.width(words, head) - 20.0f;
    if (!running.empty() && pen.width(running, grey) <= room)
        pen.right(running, static_cast<float>(close.getX()) - 14.0f, base, room, grey);
    const float top = base + measures.between(6, 12);
    if (shown == What::history)
        drawHistory(pen, top);
    else if (shown == What::budget)
        drawBudget(pen, top);
    else
        drawRemarks(pen, top);
    canvas.setPicture(std::move(pen.picture));
}

void ReferenceSheet::drawHistory(Pen& pen, float top)
{
    const float width = static_cast<float>(getWidth()), height = static_cast<float>(getHeight());
    const float headHeight = measures.between(18, 22), chips = measures.between(22, 26), gap = measures.between(5, 8);
    const int scroll = table.getViewport()->getScrollBarThickness();
    const float rowsWidth = width - 2.0f - static_cast<float>(scroll);
    add(pen.picture, historyHead({rowsWidth, headHeight}, measures, *fonts), 1.0f, top);
    const float tableTop = top + headHeight, room = height - tableTop - chips - 2.0f * gap;
    // Whole rows: half a number says nothing.
    const int rowHeight = juce::roundToInt(measures.between(21, 24)),
              rows = std::max(1, static_cast<int>(room) / rowHeight);
    table.getViewport()->setScrollBarsShown(true, false);
    if (table.getRowHeight() != rowHeight)
        table.setRowHeight(rowHeight);
    table.setBounds(whole(0.0f, tableTop, width, static_cast<float>(rows * rowHeight + 2)));
    table.show(view.history, selected, measures);
    const float middle = height - gap - chips / 2.0f;
    save.setSize(measures.between(12, 13));
    save.placeLeft(-5.0f, middle, chips);
    const HistoryPoint* point =
        selected && *selected < view.history.points.size() ? &view.history.points[*selected] : nullptr;
    const float left = static_cast<float>(save.getRight()) + 10.0f;
    aside.setBounds(whole(left, middle - chips / 2.0f, width + 5.0f - left, chips));
    aside.show(point, !view.canCancel, measures.between(12, 13));
}

void ReferenceSheet::drawBudget(Pen& pen, float top)
{
    const float width = static_cast<float>(getWidth()), inset = measures.between(10, 16), air = measures.between(4, 8);
    const float termsHeight = terms.heightFor(width - 2.0f * inset) + 2.0f * air;
    const float gap = measures.between(6, 12), bottom = static_cast<float>(getHeight()) - measures.between(4, 10);
    auto budget = budgetTable(view, width - 2.0f * inset, measures, *fonts);
    if (view.budget.empty())
        budget = {budgetBars(view, {width - 2.0f * inset, measures.between(70, 90)}, measures, *fonts),
                  measures.between(70, 90)};
    const float tableHeight = std::min(budget.height + air, bottom - top - termsHeight - gap);
    pen.box(juce::Rectangle<float>(0.0f, top, width, tableHeight).reduced(0.5f), 6.0f, colours::card, colours::edge);
    add(pen.picture, std::move(budget.picture), inset, top + air);
    const float boxTop = top + tableHeight + gap;
    pen.box(juce::Rectangle<float>(0.0f, boxTop, width, termsHeight).reduced(0.5f), 6.0f, colours::card, colours::edge);
    terms.setBounds(whole(inset, boxTop + air, width - 2.0f * inset, termsHeight - air));
    terms.show(view.judged, !view.canCancel && !view.coupler.empty());
}

void ReferenceSheet::drawRemarks(Pen& pen, float top)
{
    const float width = static_cast<float>(getWidth()), inset = measures.between(12, 18);
    const float height = static_cast<float>(getHeight()) - top - measures.between(4, 10);
    pen.box(juce::Rectangle<float>(0.0f, top, width, height).reduced(0.5f), 6.0f, colours::card, colours::edge);
    const TextStyle style{measures.between(12, 14)};
    drawBulleted(pen, remarks(view), {inset, top + inset, width - 2.0f * inset, height - 2.0f * inset}, style,
                 style.size + measures.between(3, 6));
}

} // namespace couplet
