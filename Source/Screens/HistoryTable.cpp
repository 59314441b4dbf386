// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/HistoryTable.h"

#include "Quantities/QuantityText.h"
#include "Screens/Pen.h"
#include "Screens/ReferenceWords.h"

namespace couplet {
namespace {

struct Columns
{
    float date, offset, U, calibrator, standing, end; // left edges; offset and U: right edges

    static Columns of(float width)
    {
        return {12.0f, 0.27f * width, 0.35f * width, 0.375f * width, 0.65f * width, width - 10.0f};
    }
};

TextStyle cellStyle(const Measures& m)
{
    return {m.between(12, 13)};
}

} // namespace

Picture historyHead(juce::Point<float> size, const Measures& m, const Fonts& fonts)
{
    Pen pen(fonts);
    const auto at = Columns::of(size.x);
    const TextStyle grey{m.between(11, 12), false, colours::grey};
    const float y = size.y - 6.0f;
    pen.left("taken, UTC", at.date, y, 90.0f, grey);
    pen.right("offset", at.offset, y, 60.0f, grey);
    pen.right("U", at.U, y, 40.0f, grey);
    pen.left("calibrator", at.calibrator, y, at.standing - at.calibrator - 8.0f, grey);
    pen.left("standing", at.standing, y, at.end - at.standing, grey);
    return pen.picture;
}

Picture historyRow(const HistoryPoint& point, bool selected, juce::Point<float> size, const Measures& m,
                   const Fonts& fonts)
{
    Pen pen(fonts);
    if (selected) {
        juce::Path body, edge;
        body.addRectangle(0.0f, 0.0f, size.x, size.y - 1.0f);
        edge.addRectangle(0.0f, 0.0f, 4.0f, size.y - 1.0f);
        pen.fill(body, colours::edge.withAlpha(0.55f));
        pen.fill(edge, colours::measured);
    }
    pen.line(0.0f, size.y - 0.5f, size.x, size.y - 0.5f, colours::edge, 1.0f);
    const auto at = Columns::of(size.x);
    const TextStyle style = cellStyle(m), grey{style.size, false, colours::grey};
    const TextStyle& number = point.counts() ? style : grey;
    const float y = size.y / 2.0f + 0.36f * style.size;
    const auto words = [&](const std::string& text, float from, float to, const TextStyle& s) {
        pen.left(pen.shortened(text, to - from, s), from, y, to - from, s);
    };
    const auto offset = levelText(point.offset_dB);
    words(minuteText(point.takenAt), at.date, at.offset - pen.width(offset, number) - 6.0f, number);
    pen.right(offset, at.offset, y, pen.width(offset, number) + 1.0f, number);
    if (point.U_dB) {
        const auto U = uncertaintyText(*point.U_dB);
        pen.right(U, at.U, y, pen.width(U, number) + 1.0f, number);
    }
    words(point.calibrator, at.calibrator, at.standing - 8.0f, number);
    const auto standing = standingWords(point);
    if (standing.empty())
        return pen.picture;
    const Mark mark = !point.counts() ? Mark::silent : point.outside ? Mark::attention : Mark::whole;
    pen.mark(mark, at.standing, size.y / 2.0f, 9.0f, colours::ink);
    words(standing, at.standing + 15.0f, at.end, style);
    return pen.picture;
}

HistoryTable::HistoryTable() : juce::ListBox("references", nullptr)
{
    setModel(this);
    setRowHeight(24);
    setColour(juce::ListBox::backgroundColourId, colours::card);
    setColour(juce::ListBox::outlineColourId, colours::edge);
    setOutlineThickness(1);
    setTitle("References of this coupler");
}

HistoryTable::~HistoryTable()
{
    setModel(nullptr);
}

void HistoryTable::show(const ReferenceHistory& history, std::optional<std::size_t> chosen, const Measures& m)
{
    if (!(measures == m) || points != history.points) {
        measures = m;
        points = history.points;
        updateContent();
    }
    const int row = chosen && *chosen < points.size() ? static_cast<int>(points.size() - 1 - *chosen) : -1;
    if (row >= 0 && row != getSelectedRow())
        selectRow(row);
}

juce::Component* HistoryTable::refreshComponentForRow(int row, bool isSelected, juce::Component* before)
{
    auto* canvas = canvasOfRow(before, row >= 0 && row < getNumRows());
    if (canvas == nullptr)
        return nullptr;
    canvas->setTitle(getNameForRow(row));
    const juce::Point<float> size(static_cast<float>(getVisibleRowWidth()), static_cast<float>(getRowHeight()));
    canvas->setPicture(historyRow(points[indexOf(row)], isSelected, size, measures, *fonts));
    return canvas;
}

void HistoryTable::selectedRowsChanged(int row)
{
    if (row >= 0 && row < getNumRows() && onSelect)
        onSelect(indexOf(row));
}

void HistoryTable::deleteKeyPressed(int)
{
    if (onDelete)
        onDelete();
}

juce::String HistoryTable::getNameForRow(int row)
{
    if (row < 0 || row >= getNumRows())
        return {};
    return juce::String::fromUTF8(pointWords(points[indexOf(row)]).c_str());
}

} // namespace couplet
