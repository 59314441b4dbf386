// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/SpectrumPanel.h"

#include "Screens/OrdersPicture.h"

namespace couplet {
namespace {

constexpr float inset = 16.0f;

juce::Point<float> sizeOf(const juce::Component& c)
{
    return c.getLocalBounds().getBottomRight().toFloat();
}

Picture card(juce::Point<float> size, const Fonts& fonts)
{
    Pen pen(fonts);
    pen.box(juce::Rectangle<float>(size.x, size.y).reduced(0.5f), 6.0f, colours::card, colours::edge);
    return pen.picture;
}

Picture onto(Picture below, Picture above)
{
    below.shapes.insert(below.shapes.end(), above.shapes.begin(), above.shapes.end());
    below.texts.insert(below.texts.end(), above.texts.begin(), above.texts.end());
    return below;
}

} // namespace

SpectrumPanel::SpectrumPanel()
{
    for (Canvas* canvas : {&plot, &words, &mark})
        addAndMakeVisible(canvas);
    plot.setTitle("Spectrum");
    words.setTitle("What the plot shows");
    mark.setTitle("Under the pointer");
}

void SpectrumPanel::show(const LiveView& view, const Measures& m)
{
    const auto next = spectrumContent(view);
    const bool restyled = !(m == measures);
    measures = m;
    const auto now = juce::Time::getMillisecondCounter();
    const bool early = taken_ms && now - *taken_ms < static_cast<juce::uint32>(leastPause_ms);
    if (next == shown && taken_ms) {
        waiting.reset();
        if (restyled)
            draw();
    }
    else if (!early || restyled || changesTheSense(next)) {
        take(next);
    }
    else {
        waiting = next;
        if (!isTimerRunning())
            startTimer(leastPause_ms - static_cast<int>(now - *taken_ms));
    }
}

bool SpectrumPanel::changesTheSense(const SpectrumContent& next) const
{
    return next.why != shown.why || next.whyNoOrders != shown.whyNoOrders || next.unit != shown.unit ||
           next.state != shown.state || next.tone.has_value() != shown.tone.has_value();
}

void SpectrumPanel::timerCallback()
{
    stopTimer();
    if (waiting)
        take(*waiting);
}

void SpectrumPanel::take(const SpectrumContent& next)
{
    shown = next;
    waiting.reset();
    taken_ms = juce::Time::getMillisecondCounter();
    copied = false;
    if (const auto extent = shown.why.empty() ? levelExtent(shown.spectrum) : std::nullopt)
        range = rangeFollowing(range, extent->lowest_dB, extent->highest_dB);
    draw();
}

void SpectrumPanel::showOrders(bool on)
{
    if (on == orders)
        return;
    orders = on;
    copied = false;
    plot.setTitle(orders ? "Distortion by order" : "Spectrum");
    draw();
}

void SpectrumPanel::setLegendStart(float x)
{
    legendStart = x;
    drawWords();
}

std::string SpectrumPanel::table() const
{
    return orders ? ordersTable(shown) : spectrumTable(shown);
}

void SpectrumPanel::resized()
{
    plot.setBounds(getLocalBounds());
    mark.setBounds(getLocalBounds());
    words.setBounds(getLocalBounds().removeFromTop(30));
    draw();
}

// Hidden it draws nothing, and seen again it starts with what is new.
void SpectrumPanel::visibilityChanged()
{
    stopTimer();
    waiting.reset();
    taken_ms.reset();
    pointer.reset();
    copied = false;
}

void SpectrumPanel::mouseMove(const juce::MouseEvent& event)
{
    pointer = event.position;
    copied = false;
    drawWords();
}

void SpectrumPanel::mouseExit(const juce::MouseEvent&)
{
    pointer.reset();
    copied = false;
    drawWords();
}

void SpectrumPanel::mouseDown(const juce::MouseEvent& event)
{
    if (!event.mods.isPopupMenu()) {
        mouseMove(event);
        return;
    }
    toClipboard(juce::String::fromUTF8(table().c_str()));
    copied = true;
    drawWords();
}

std::optional<double> SpectrumPanel::pointedAt() const
{
    const auto axes = SpectrumPlot::within(sizeOf(*this), range.value_or(LevelRange{}), measures);
    if (orders || !pointer || !shown.why.empty() || !axes.area.contains(*pointer))
        return {};
    return axes.frequencyAt(pointer->x);
}

void SpectrumPanel::draw()
{
    const auto size = sizeOf(*this);
    if (size.y <= 0.0f)
        return;
    const auto axes = SpectrumPlot::within(size, range.value_or(LevelRange{}), measures);
    plot.setPicture(onto(card(size, *fonts), orders ? ordersPicture(shown, size, measures, *fonts)
                                                    : spectrumPicture(shown, axes, measures, *fonts)));
    drawWords();
}

void SpectrumPanel::drawWords()
{
    const auto size = sizeOf(*this);
    const float right = size.x - inset;
    const auto at = pointedAt();
    const auto axes = SpectrumPlot::within(size, range.value_or(LevelRange{}), measures);
    mark.setPicture(at ? pointerPicture(shown, axes, *at, *fonts) : Picture{});
    if (copied) {
        Pen pen(*fonts);
        pen.left("copied as a table", legendStart, measures.between(17, 22), right - legendStart,
                 {measures.between(11, 12)});
        words.setPicture(std::move(pen.picture));
    }
    else if (at) {
        words.setPicture(wordsAtPointer(shown, *at, legendStart, right, measures, *fonts));
    }
    else {
        words.setPicture(orders ? ordersLegend(shown, legendStart, right, measures, *fonts)
                                : spectrumLegend(shown, legendStart, right, measures, *fonts));
    }
}

} // namespace couplet
