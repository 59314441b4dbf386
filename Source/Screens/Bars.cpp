// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Bars.h"

#include "Screens/Measures.h"
#include "Screens/Pen.h"
#include "Screens/Words.h"

namespace couplet {
namespace {

constexpr float barGap = 6.0f;
const TextStyle sentence{13.0f};
constexpr float pitch = 17.0f, textLeft = 34.0f, side = 12.0f;
constexpr const char* loopWords = "The output is muted: this track fed itself through the microphone (a loop). "
                                  "Turn monitoring off, then unmute.";

float barHeight(int lines)
{
    return lines == 0 ? 0.0f : 13.0f + pitch * static_cast<float>(lines);
}

void frame(Pen& pen, juce::Rectangle<float> area, juce::Colour edge)
{
    pen.box(area.reduced(0.5f), 6.0f, colours::card, edge);
    pen.mark(Mark::attention, side, 15.0f, 13.0f, colours::ink);
}

} // namespace

NoticeBar::NoticeBar()
{
    addAndMakeVisible(canvas);
    canvas.setTitle("Notices");
}

void NoticeBar::show(const LiveView& view)
{
    show(notices(view));
}

void NoticeBar::show(std::vector<std::string> next)
{
    if (next == sentences)
        return;
    sentences = std::move(next);
    resized();
}

float NoticeBar::heightFor(float width) const
{
    const Pen pen(*fonts);
    int lines = 0;
    for (const auto& text : sentences)
        lines += pen.linesFor(text, width - textLeft - side, sentence);
    return barHeight(lines);
}

void NoticeBar::resized()
{
    canvas.setBounds(getLocalBounds());
    Pen pen(*fonts);
    const auto area = getLocalBounds().toFloat();
    if (!sentences.empty() && !area.isEmpty())
        frame(pen, area, colours::edge);
    float baseline = 20.0f;
    for (const auto& text : sentences)
        baseline += pitch * static_cast<float>(pen.paragraph(text, textLeft, baseline,
                                                             area.getWidth() - textLeft - side, pitch, 99, sentence));
    canvas.setPicture(std::move(pen.picture));
}

LoopBar::LoopBar(Controls& controls)
{
    addAndMakeVisible(canvas);
    addAndMakeVisible(unmute);
    canvas.setTitle("Muted loop");
    unmute.setTitle("Unmute the output");
    unmute.onClick = [&controls] { controls.unmuteLoop(); };
}

void LoopBar::show(const LiveView& view)
{
    muted = view.loopMuted;
}

float LoopBar::heightFor(float width) const
{
    if (!muted)
        return 0.0f;
    const float room = width - textLeft - side - unmute.wantedWidth() - 14.0f;
    return std::max(36.0f, barHeight(Pen(*fonts).linesFor(loopWords, room, sentence)));
}

void LoopBar::resized()
{
    canvas.setBounds(getLocalBounds());
    Pen pen(*fonts);
    const auto area = getLocalBounds().toFloat();
    frame(pen, area, colours::ink);
    unmute.placeRight(area.getRight() - 6.0f, area.getCentreY(), 26.0f);
    const float room = static_cast<float>(unmute.getX()) - textLeft - 14.0f;
    const int lines = pen.linesFor(loopWords, room, sentence);
    const float first = area.getCentreY() + 5.0f - 0.5f * pitch * static_cast<float>(lines - 1);
    pen.paragraph(loopWords, textLeft, first, room, pitch, lines, sentence);
    canvas.setPicture(std::move(pen.picture));
}

float heightOfBars(std::initializer_list<float> heights)
{
    float all = 0.0f;
    for (const float each : heights)
        all += each > 0.0f ? each + barGap : 0.0f;
    return all;
}

float placeBars(std::initializer_list<PlacedBar> bars, float left, float top, float width)
{
    float y = top;
    for (const PlacedBar& each : bars) {
        each.bar.setVisible(each.height > 0.0f);
        if (each.height <= 0.0f)
            continue;
        each.bar.setBounds(whole(left, y, width, each.height));
        y += each.height + barGap;
    }
    return y;
}

} // namespace couplet
