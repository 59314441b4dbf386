// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitCapturePicture.h"

#include "Quantities/QuantityText.h"
#include "Screens/FitTexts.h"
#include "Screens/Pen.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

constexpr float inset = 16.0f;
constexpr float tau = juce::MathConstants<float>::twoPi;

// Waiting: a ring. Reading: a ring that fills as a clock's face. Lift: an arrow upward. Kept just now: a tick. All differ
// by their form.
void drawMark(Pen& pen, const FitView& view, bool flashes, juce::Rectangle<float> area)
{
    const float thick = area.getWidth() / 9.0f;
    juce::Path ring;
    ring.addEllipse(area.reduced(thick / 2.0f));
    if (flashes) {
        juce::Path disc, tick;
        disc.addEllipse(area);
        pen.fill(disc, colours::ink);
        tick.startNewSubPath(area.getX() + 0.27f * area.getWidth(), area.getY() + 0.53f * area.getHeight());
        tick.lineTo(area.getX() + 0.44f * area.getWidth(), area.getY() + 0.70f * area.getHeight());
        tick.lineTo(area.getX() + 0.75f * area.getWidth(), area.getY() + 0.32f * area.getHeight());
        pen.stroke(tick, colours::card, thick);
        return;
    }
    switch (view.capture) {
    case FitCaptureState::lift: {
        const float x = area.getCentreX(), half = area.getWidth() / 2.0f;
        juce::Path arrow;
        arrow.addTriangle(x - 0.8f * half, area.getCentreY(), x + 0.8f * half, area.getCentreY(), x, area.getY());
        arrow.addRectangle(x - 0.3f * half, area.getCentreY(), 0.6f * half, half);
        pen.fill(arrow, colours::ink);
        return;
    }
    case FitCaptureState::reading: {
        juce::Path pie;
        const auto inner = area.reduced(thick * 1.6f);
        pie.addPieSegment(inner, 0.0f, tau * static_cast<float>(std::clamp(view.progress, 0.0, 1.0)), 0.0f);
        pen.fill(pie, colours::measured);
        pen.stroke(ring, colours::measured, thick);
        return;
    }
    case FitCaptureState::waiting:
    case FitCaptureState::off:
        pen.stroke(ring, colours::grey, thick);
        return;
    }
}

} // namespace

Picture fitCapturePicture(const FitView& view, bool flashes, juce::Point<float> size, float bottom, const Measures& m,
                          const Fonts& fonts)
{
    Pen pen(fonts);
    const float room = size.x - 2.0f * inset, right = size.x - inset;
    const TextStyle grey{m.between(11, 12), false, colours::grey}, name{m.between(15, 20), true};
    const TextStyle notice{m.between(12, 14)};

    float y = m.between(21, 32);
    const float tag =
        view.simulated ? pen.tag("simulated", right, y - 1.0f, {m.between(10, 12)}, colours::paper) : 0.0f;
    const float nameRoom = room - (tag > 0.0f ? tag + 8.0f : 0.0f);
    pen.left(pen.shortened(targetWords(view), nameRoom, name), inset, y, nameRoom, name);

    // What it waits for stands whole; mark and numbers share the rest.
    constexpr int mostLines = 5;
    const float pitch = notice.size + m.between(2, 5);
    // A reading that was kept just now is told by its mark, which has the room of the notice for that while.
    const int lines = flashes ? 0 : std::min(mostLines, pen.linesFor(view.captureNotice, room, notice));
    const float scaleHeight = view.scaleText.empty() || m.ease < 0.5f ? 0.0f : pitch; // else a hint has it
    const float noticeTop = bottom - Fonts::descent(notice) - pitch * static_cast<float>(lines) - scaleHeight;
    const float labelBase = noticeTop - m.between(2, 8), top = y + m.between(7, 14);
    const float free = labelBase - grey.size - m.between(3, 6) - top;

    const float side = std::min(m.between(52, 78), 0.48f * free);
    drawMark(pen, view, flashes, {inset, top, side, side});
    const TextStyle word{0.7f * side, true};
    const float wordLeft = inset + side + m.between(12, 20);
    pen.left(flashes ? "kept" : captureWords(view.capture), wordLeft, top + 0.5f * side + 0.36f * word.size,
             right - wordLeft, word);

    // The last reading and how many there are, side by side.
    const float digits = std::min(m.between(56, 84), (free - side - m.between(4, 12)) / 0.76f); // capitals' share
    const TextStyle big{digits, true, colours::measured}, count{digits, true};
    const bool counts = view.target.kind != FitKind::earphone;
    const float base = labelBase - grey.size - m.between(3, 8);
    const auto counted = fmt::format("{}", readingsOfTarget(view));
    const float countWidth = counts ? pen.width(counted, count) + 1.0f : 0.0f;
    if (view.lastKept_dB)
        pen.left(levelText(*view.lastKept_dB), inset, base, room - countWidth - 4.0f, big);
    if (counts)
        pen.right(counted, right, base, countWidth, count);
    const std::string label = view.lastKept_dB ? "last reading, dB" : "no reading kept yet";
    const float labelWidth = pen.width(label, grey), end = counts ? pen.width("readings", grey) : 0.0f;
    pen.left(label, inset, labelBase, labelWidth + 1.0f, grey);
    if (counts)
        pen.right("readings", right, labelBase, end + 1.0f, grey);
    if (view.tone_dB) {
        const auto tone = fmt::format("now {} dB", levelText(*view.tone_dB));
        const float left = inset + labelWidth + m.between(12, 24);
        pen.left(tone, left, labelBase, right - end - 8.0f - left, {grey.size});
    }
    if (scaleHeight > 0.0f)
        pen.left(pen.shortened(view.scaleText, room, grey), inset, bottom - Fonts::descent(notice), room, grey);
    if (lines > 0)
        pen.paragraph(view.captureNotice, inset, noticeTop + pitch - m.between(0, 1), room, pitch, lines, notice);
    return std::move(pen.picture);
}

} // namespace couplet
