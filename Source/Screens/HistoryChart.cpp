// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/HistoryChart.h"

#include "Screens/Chip.h"
#include "Screens/ControlChartPicture.h"
#include "Screens/ReferenceWords.h"

namespace couplet {

using Key = juce::KeyPress;

HistoryChart::HistoryChart()
{
    setTitle("Control chart of the offset");
    setWantsKeyboardFocus(true);
    addAndMakeVisible(canvas);
    canvas.setTitle("Control chart of the offset");
}

void HistoryChart::show(const ReferenceHistory& next, std::optional<std::size_t> s, const Measures& m)
{
    history = next;
    selected = s;
    measures = m;
    draw();
}

void HistoryChart::draw()
{
    canvas.setBounds(getLocalBounds());
    const auto size = getLocalBounds().getBottomRight().toFloat();
    if (size.x <= 0.0f || size.y <= 0.0f)
        return;
    Pen pen(*fonts);
    pen.picture = controlChartPicture(history, selected, size, measures, *fonts);
    if (hasKeyboardFocus(false))
        drawFocusRing(pen, getLocalBounds().toFloat());
    canvas.setPicture(std::move(pen.picture));
    if (selected && *selected < history.points.size())
        setDescription(juce::String::fromUTF8(
            (pointWords(history.points[*selected]) + " " + standingWords(history.points[*selected])).c_str()));
}

bool HistoryChart::keyPressed(const juce::KeyPress& key)
{
    const std::size_t count = history.points.size();
    if (count == 0 || !onSelect)
        return false;
    const std::size_t last = count - 1, at = std::min(selected.value_or(last), last);
    if (key.isKeyCode(Key::leftKey))
        onSelect(at > 0 ? at - 1 : 0);
    else if (key.isKeyCode(Key::rightKey))
        onSelect(std::min(at + 1, last));
    else if (key.isKeyCode(Key::homeKey))
        onSelect(0);
    else if (key.isKeyCode(Key::endKey))
        onSelect(last);
    else
        return false;
    return true;
}

void HistoryChart::mouseDown(const juce::MouseEvent& click)
{
    const auto size = getLocalBounds().getBottomRight().toFloat();
    if (const auto near = pointNear(history, static_cast<float>(click.x), size, measures); near && onSelect)
        onSelect(*near);
}

} // namespace couplet
