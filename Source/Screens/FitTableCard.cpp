// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitTableCard.h"

#include <algorithm>

namespace couplet {
namespace {

constexpr float inset = 8.0f; // of the list: the band around a row reaches farther than its words

} // namespace

FitTableCard::FitTableCard(FitControls& c, const FitView& v) : table(v), controls(c), view(v)
{
    const std::initializer_list<juce::Component*> children{&card, &table, &reading, &add, &row, &capture, &file};
    for (auto* child : children)
        addAndMakeVisible(child);
    addChildComponent(form);
    card.setTitle("Columns of the table");
    reading.setTooltip("type a reading of the group in the band (key R)");
    add.setTooltip("a fitting or an earphone");
    row.setTooltip("what can be done with the selected row, and with everything");
    file.setTooltip("Ctrl+O; a file can be dropped here, or cells pasted from a spreadsheet (Ctrl+V)");
    reading.onClick = [this] { askReading(); };
    add.onClick = [this] { addMenu().open(add); };
    row.onClick = [this] { rowMenu().open(row); };
    capture.onClick = [this] { controls.captureFitReadings(view.capture == FitCaptureState::off); };
    file.onClick = [this] { onTableFile(); };
    table.onRows = [this] { drawCard(); };
    table.onSelect = [this] { selected(); };
    table.onCorrect = [this] { askCorrection(); };
    table.onDelete = [this] { removeSelected(); };
    form.onHeight = [this] { resized(); };
    form.onLeave = [this] {
        if (isShowing())
            table.grabKeyboardFocus();
    };
}

void FitTableCard::show(const Measures& m)
{
    const bool restyled = !(m == measures);
    measures = m;
    capture.setOn(view.capture != FitCaptureState::off);
    const std::string hint = "each steady tone is one reading; the next counts when the tone was away (key G)";
    capture.setTooltip(juce::String::fromUTF8((hint + (view.scaleText.empty() ? "" : "\n" + view.scaleText)).c_str()));
    form.setMeasures(m);
    if (restyled)
        return resized();
    table.show(measures);
}

// The group of what is selected is where the next reading goes.
void FitTableCard::selected()
{
    const auto* chosen = table.selectedRow();
    if (chosen != nullptr && !(chosen->target == view.target))
        controls.chooseFitTarget(chosen->target);
}

void FitTableCard::resized()
{
    auto area = getLocalBounds().toFloat();
    if (area.isEmpty())
        return;
    card.setBounds(getLocalBounds());
    const float top = measures.between(27, 37), foot = measures.between(28, 36);
    const float formHeight = form.heightFor(area.getWidth() - 2.0f * inset);
    form.setVisible(formHeight > 0.0f);
    placeChips(area.getBottom() - measures.between(15, 19));
    for (Chip* chip : {&reading, &add, &row, &capture, &file})
        chip->setVisible(formHeight <= 0.0f);
    area.removeFromBottom(formHeight > 0.0f ? formHeight + 4.0f : foot);
    form.setBounds(
        juce::Rectangle<float>(inset, area.getBottom(), area.getWidth() - 2.0f * inset, formHeight).toNearestInt());
    form.resized();
    area.removeFromTop(top);
    table.show(measures);
    const auto list = area.reduced(inset, 0.0f).toNearestInt();
    // Whole rows: half a number says nothing.
    table.setBounds(list.withHeight(std::max(1, list.getHeight() / table.getRowHeight()) * table.getRowHeight()));
    table.show(measures);
}

void FitTableCard::placeChips(float middle)
{
    const bool narrow = getWidth() < 500;
    const float height = measures.between(22, 26), gap = measures.between(2, 7);
    capture.setText(narrow ? "hands-free" : "hands-free capture");
    file.setText(narrow ? "table file" : "read from a table file");
    float x = 11.0f;
    for (Chip* chip : {&reading, &add, &row, &capture}) {
        chip->setSize(measures.between(12, 13));
        chip->placeLeft(x, middle, height);
        x = static_cast<float>(chip->getRight()) + gap;
    }
    file.setSize(measures.between(12, 13));
    file.placeRight(static_cast<float>(getWidth()) - 11.0f, middle, height);
}

void FitTableCard::drawCard()
{
    Pen pen(*fonts);
    const auto area = getLocalBounds().toFloat();
    pen.box(area.reduced(0.5f), 6.0f, colours::card, colours::edge);
    auto headings = fitHeadings(table.rowWidth(), measures, *fonts);
    for (auto& shape : headings.shapes) {
        shape.path.applyTransform(juce::AffineTransform::translation(inset, 0.0f));
        pen.picture.shapes.push_back(shape);
    }
    for (auto& text : headings.texts) {
        text.room.translate(inset, 0.0f);
        pen.picture.texts.push_back(text);
    }
    card.setPicture(std::move(pen.picture));
}

bool FitTableCard::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::F2Key))
        return false;
    askRename();
    return true;
}

void FitTableCard::removeSelected()
{
    const auto* chosen = table.selectedRow();
    if (chosen == nullptr)
        return;
    switch (chosen->what) {
    case FitRow::What::fitting:
        return controls.removeFitting(chosen->target.index);
    case FitRow::What::earphone:
        return controls.removeFitEarphone(chosen->target.index);
    case FitRow::What::reading:
        return askReason();
    case FitRow::What::through:
    case FitRow::What::rating:
        return;
    }
}

} // namespace couplet
