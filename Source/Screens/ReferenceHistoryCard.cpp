// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ReferenceHistoryCard.h"

#include "Screens/Pen.h"
#include "Screens/ReferenceWords.h"

namespace couplet {
namespace {

struct Line
{
    std::string text;
    std::optional<Mark> mark;
    bool strong = false;
};

std::vector<Line> linesOf(const ReferenceHistory& history, std::optional<std::size_t> selected)
{
    std::vector<Line> lines;
    if (selected && *selected < history.points.size()) {
        const HistoryPoint& point = history.points[*selected];
        const auto standing = standingWords(point);
        lines.push_back({pointWords(point) + (standing.empty() ? "" : ", " + standing), {}, true});
    }
    if (!history.points.empty()) // else the chart itself says it
        lines.push_back({bandWords(history), {}, false});
    if (const auto drift = driftWords(history); !drift.empty())
        lines.push_back({drift, {}, false});
    if (const auto due = dueWords(history); !due.empty())
        lines.push_back({due, history.stale ? Mark::half : Mark::whole, false});
    return lines;
}

} // namespace

ReferenceHistoryCard::ReferenceHistoryCard()
{
    addAndMakeVisible(canvas);
    canvas.setTitle("History of the offset");
    addAndMakeVisible(chart);
    for (Chip* chip : {&table, &save})
        addAndMakeVisible(chip);
    addAndMakeVisible(aside);
    table.setTooltip("every reference with its date, uncertainty and calibrator (key T)");
    save.setTooltip("the whole history as a table for other programs (Ctrl+S)");
    table.onClick = [this] { onTable(); };
    save.onClick = [this] { onExport(); };
    aside.onEditing = [this] { draw(); };
}

void ReferenceHistoryCard::show(const ReferenceView& next, std::optional<std::size_t> s)
{
    view = next;
    selected = s;
    draw();
}

bool ReferenceHistoryCard::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::deleteKey) || aside.edits())
        return false;
    aside.start();
    return true;
}

// From the bottom up, each on as many lines as it needs. Says where they begin.
float ReferenceHistoryCard::drawLines(Pen& pen, float bottom)
{
    const float inset = measures.between(12, 16), width = static_cast<float>(getWidth()) - 2.0f * inset;
    const TextStyle grey{measures.between(11, 12.5f), false, colours::grey}, ink{grey.size};
    const float pitch = grey.size + measures.between(3, 6);
    const auto lines = linesOf(view.history, selected);
    const auto indent = [](const Line& line) { return line.mark ? 15.0f : 0.0f; };
    const auto style = [&](const Line& line) { return line.strong ? ink : grey; };
    float height = 0.0f;
    for (const Line& line : lines)
        height += pitch * static_cast<float>(pen.linesFor(line.text, width - indent(line), style(line)));
    float y = bottom - height;
    const float begin = y;
    for (const Line& line : lines) {
        const float base = y + 0.8f * grey.size + 1.0f;
        if (line.mark)
            pen.mark(*line.mark, inset, base - 0.36f * grey.size, 10.0f, colours::ink);
        y += pitch * static_cast<float>(pen.paragraph(line.text, inset + indent(line), base, width - indent(line),
                                                      pitch, 4, style(line)));
    }
    return begin;
}

void ReferenceHistoryCard::draw()
{
    if (getWidth() <= 0)
        return;
    canvas.setBounds(getLocalBounds());
    const auto size = getLocalBounds().getBottomRight().toFloat();
    const float inset = measures.between(12, 16), chipHeight = measures.between(20, 24);
    Pen pen(*fonts);
    pen.box(juce::Rectangle<float>(size.x, size.y).reduced(0.5f), 6.0f, colours::card, colours::edge);
    const TextStyle grey{measures.between(11, 12), false, colours::grey};
    const float base = measures.between(17, 24), room = size.x - 2.0f * inset;
    const auto title = historyTitle(view.history);
    pen.left(pen.shortened(title, room, grey), inset, base, room, grey);
    const std::string unit = "dB SPL at 0 dBFS";
    if (pen.width(title, grey) + pen.width(unit, grey) + 12.0f <= room)
        pen.right(unit, size.x - inset, base, pen.width(unit, grey) + 1.0f, grey);

    const float textSize = measures.between(11.5f, 13), middle = size.y - measures.between(6, 10) - chipHeight / 2.0f;
    table.setSize(textSize);
    save.setSize(textSize);
    table.setEnabled(!view.history.points.empty());
    save.setEnabled(!view.history.points.empty());
    table.placeLeft(inset - 5.0f, middle, chipHeight);
    save.placeLeft(static_cast<float>(table.getRight()) + measures.between(2, 10), middle, chipHeight);
    const HistoryPoint* point =
        selected && *selected < view.history.points.size() ? &view.history.points[*selected] : nullptr;
    table.setVisible(!aside.edits());
    save.setVisible(!aside.edits());
    const float left = aside.edits() ? inset - 5.0f : static_cast<float>(save.getRight()) + 2.0f;
    aside.setBounds(juce::Rectangle<float>(left, middle - chipHeight / 2.0f, size.x - inset + 5.0f - left, chipHeight)
                        .toNearestInt());
    aside.show(point, !view.canCancel, textSize);

    const float linesTop = drawLines(pen, middle - chipHeight / 2.0f - measures.between(1, 4));
    const float chartTop = base + measures.between(3, 8);
    chart.setBounds(juce::Rectangle<float>(inset - 4.0f, chartTop, size.x - 2.0f * inset + 8.0f,
                                           std::max(0.0f, linesTop - chartTop - measures.between(0, 3)))
                        .toNearestInt());
    chart.show(view.history, selected, measures);
    canvas.setPicture(std::move(pen.picture));
}

} // namespace couplet
