// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/SpectrumPicture.h"

#include <fmt/format.h>

#include <array>

namespace couplet {
namespace {

constexpr float inset = 16.0f, labelRoom = 52.0f;

struct FrequencyLabel
{
    double frequency_Hz;
    const char* text;
};
constexpr std::array<FrequencyLabel, 10> labels{{{20.0, ""},
                                                 {50.0, "50"},
                                                 {100.0, "100"},
                                                 {200.0, "200"},
                                                 {500.0, "500"},
                                                 {1000.0, "1k"},
                                                 {2000.0, "2k"},
                                                 {5000.0, "5k"},
                                                 {10000.0, "10k"},
                                                 {20000.0, "20k"}}};

TextStyle tickStyle(const Measures& m)
{
    return {m.between(10.5f, 12), false, colours::grey};
}

void drawLevelAxis(Pen& pen, const SpectrumPlot& plot, const Measures& m)
{
    const TextStyle style = tickStyle(m);
    const int lines = static_cast<int>(std::lround((plot.range.high_dB - plot.range.low_dB) / plot.range.step_dB));
    const float pitch = plot.area.getHeight() / static_cast<float>(lines);
    const int each = static_cast<int>(std::ceil((style.size + 3.0f) / pitch)); // close lines: every so manieth
    for (int i = 0; i <= lines; ++i) {
        const double level = plot.range.low_dB + i * plot.range.step_dB;
        const float y = std::round(plot.y(level)) + 0.5f;
        if (i % each != 0)
            continue;
        pen.line(plot.area.getX(), y, plot.area.getRight(), y, colours::edge, i == 0 ? 1.5f : 1.0f);
        pen.right((level < 0.0 ? "\u2212" : "") + fmt::format("{:.0f}", std::abs(level)), plot.area.getX() - 8.0f,
                  y + 0.33f * style.size, labelRoom - inset + 4.0f, style);
    }
}

void drawFrequencyAxis(Pen& pen, const SpectrumPlot& plot, const Measures& m)
{
    const TextStyle style = tickStyle(m);
    const float bottom = plot.area.getBottom(), base = bottom + 5.0f + 0.75f * style.size;
    for (const double decade : {10.0, 100.0, 1000.0, 10000.0})
        for (int i = 1; i < 10; ++i)
            if (const double f = decade * i; f >= 20.0 && f <= 20000.0) {
                const float x = std::round(plot.x(f)) + 0.5f;
                pen.line(x, bottom, x, bottom + 4.0f, colours::edge, 1.0f);
            }
    pen.left("20 Hz", plot.area.getX() - 3.0f, base, pen.width("20 Hz", style), style); // clear of the level's labels
    float taken = plot.area.getX() - 3.0f + pen.width("20 Hz", style);
    for (const auto& label : labels) {
        const float x = std::round(plot.x(label.frequency_Hz)) + 0.5f;
        pen.line(x, plot.area.getY(), x, bottom, colours::edge.withAlpha(0.6f), 1.0f);
        const float half = pen.width(label.text, style) / 2.0f;
        if (half == 0.0f || x - half < taken + 4.0f)
            continue;
        pen.centre(label.text, x, base, 2.0f * half + 2.0f, style);
        taken = x + half;
    }
}

void drawBands(Pen& pen, const SpectrumPlot& plot, const SpectrumReading& s)
{
    juce::Path blocks, tops;
    for (const auto& band : s.bands) {
        if (!band.level_dB)
            continue;
        const float left = std::max(plot.area.getX(), plot.x(band.midband_Hz / halfBand) + 0.5f);
        const float right = std::min(plot.area.getRight(), plot.x(band.midband_Hz * halfBand) - 0.5f);
        const float top = plot.y(*band.level_dB);
        blocks.addRectangle(left, top, right - left, plot.area.getBottom() - top);
        tops.addRectangle(left, top - 0.75f, right - left, 1.5f);
    }
    pen.fill(blocks, colours::edge.withAlpha(0.45f));
    pen.fill(tops, colours::grey.withAlpha(0.55f));
}

void drawLines(Pen& pen, const SpectrumPlot& plot, const SpectrumReading& s)
{
    juce::Path line, dots;
    bool drawing = false;
    for (std::size_t i = 0; i < s.lines.size(); ++i) {
        if (!s.lines[i].level_dB) {
            drawing = false;
            continue;
        }
        const juce::Point<float> here(plot.x(s.lines[i].frequency_Hz), plot.y(*s.lines[i].level_dB));
        drawing ? line.lineTo(here) : line.startNewSubPath(here);
        if (!drawing && (i + 1 == s.lines.size() || !s.lines[i + 1].level_dB))
            dots.addEllipse(juce::Rectangle<float>(2.4f, 2.4f).withCentre(here));
        drawing = true;
    }
    pen.stroke(line, colours::measured, 1.2f);
    pen.fill(dots, colours::measured);
}

void drawOrders(Pen& pen, const SpectrumPlot& plot, const SpectrumContent& content, const Measures& m)
{
    const TextStyle style{m.between(10.5f, 12), true};
    juce::Path dots;
    float taken = plot.area.getX();
    for (const auto& mark : orderMarks(content)) {
        const juce::Point<float> here(plot.x(mark.frequency_Hz), plot.y(mark.level_dB));
        dots.addEllipse(juce::Rectangle<float>(5.0f, 5.0f).withCentre(here));
        const std::string number = fmt::format("{}", mark.order);
        const float width = pen.width(number, style);
        float centre = here.x, base = here.y - 5.0f;
        if (base - 0.75f * style.size < plot.area.getY()) { // no room above: beside
            centre = here.x + 6.0f + width / 2.0f;
            base = std::max(here.y + 0.36f * style.size, plot.area.getY() + 0.75f * style.size);
        }
        if (centre - width / 2.0f < taken + 2.0f || centre + width / 2.0f > plot.area.getRight())
            continue;
        pen.centre(number, centre, base, width + 1.0f, style);
        taken = centre + width / 2.0f;
    }
    pen.fill(dots, colours::ink);
}

} // namespace

SpectrumPlot SpectrumPlot::within(juce::Point<float> size, const LevelRange& range, const Measures& m)
{
    const bool low = size.y < 80.0f; // then each pixel goes to the curve
    return {juce::Rectangle<float>(size.x, size.y)
                .withTrimmedLeft(labelRoom)
                .withTrimmedRight(inset + 4.0f)
                .withTrimmedTop(low ? 27.0f : m.between(31, 41))
                .withTrimmedBottom(low ? 15.0f : m.between(18, 24)),
            range};
}

void sentenceInstead(Pen& pen, const std::string& sentence, juce::Rectangle<float> area, const Measures& m)
{
    const TextStyle style{m.between(12, 13), false, colours::grey};
    const float room = std::min(area.getWidth(), 620.0f), pitch = style.size + 4.0f;
    const int lines = pen.linesFor(sentence, room, style);
    float base = area.getCentreY() - pitch * static_cast<float>(lines - 1) / 2.0f + 0.36f * style.size;
    if (lines == 1)
        pen.centre(sentence, area.getCentreX(), base, room, style);
    else
        pen.paragraph(sentence, area.getCentreX() - room / 2.0f, base, room, pitch, lines, style);
}

Picture spectrumPicture(const SpectrumContent& content, const SpectrumPlot& plot, const Measures& m, const Fonts& fonts)
{
    Pen pen(fonts);
    if (!content.why.empty()) {
        sentenceInstead(pen, content.why, plot.area, m);
        return pen.picture;
    }
    drawBands(pen, plot, content.spectrum);
    drawFrequencyAxis(pen, plot, m);
    drawLevelAxis(pen, plot, m);
    drawLines(pen, plot, content.spectrum);
    drawOrders(pen, plot, content, m);
    return pen.picture;
}

Picture pointerPicture(const SpectrumContent& content, const SpectrumPlot& plot, double frequency_Hz,
                       const Fonts& fonts)
{
    Pen pen(fonts);
    const SpectrumPoint* point = content.why.empty() ? pointAt(content.spectrum, frequency_Hz) : nullptr;
    if (point == nullptr)
        return pen.picture;
    const float x = plot.x(point->frequency_Hz);
    pen.line(x, plot.area.getY(), x, plot.area.getBottom(), colours::ink.withAlpha(0.55f), 1.0f);
    if (point->level_dB) {
        juce::Path ring;
        ring.addEllipse(juce::Rectangle<float>(8.0f, 8.0f).withCentre({x, plot.y(*point->level_dB)}));
        pen.fill(ring, colours::card);
        pen.stroke(ring, colours::measured, 1.6f);
    }
    return pen.picture;
}

} // namespace couplet
