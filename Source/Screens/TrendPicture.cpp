// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/TrendPicture.h"

#include "Screens/Pen.h"
#include "Screens/Words.h"

#include <fmt/format.h>

#include <cmath>

namespace couplet {
namespace {

constexpr std::size_t pointsAcross = 240; // 60 s
constexpr float inset = 16.0f, labelRoom = 52.0f;

std::string levelTick(double level)
{
    return (level < 0.0 ? "\u2212" : "") + fmt::format("{:.0f}", std::abs(level));
}

struct Plot
{
    juce::Rectangle<float> area;
    TrendRange range;

    // To a quarter pixel: what nobody can see needs no repaint.
    float y(double level) const
    {
        const double part = (level - range.low_dB) / (range.high_dB - range.low_dB);
        return std::round(4.0f * (area.getBottom() - static_cast<float>(part) * area.getHeight())) / 4.0f;
    }
    float x(std::size_t index, std::size_t count) const
    {
        const float age = static_cast<float>(count - 1 - index) / static_cast<float>(pointsAcross - 1);
        return area.getRight() - age * area.getWidth();
    }
};

void drawGrid(Pen& pen, const Plot& plot, bool labels, const Measures& m)
{
    const TextStyle style{m.between(10.5f, 12), false, colours::grey};
    const int lines = static_cast<int>(std::lround((plot.range.high_dB - plot.range.low_dB) / plot.range.step_dB));
    const float pitch = plot.area.getHeight() / static_cast<float>(lines);
    const int each =
        pitch >= style.size + 2.0f ? 1 : lines; // close lines: the lowest and the highest alone have labels
    for (int i = 0; i <= lines; ++i) {
        const double level = plot.range.low_dB + i * plot.range.step_dB;
        const float y = std::round(plot.y(level)) + 0.5f;
        pen.line(plot.area.getX(), y, plot.area.getRight(), y, colours::edge, 1.0f);
        if (labels && i % each == 0)
            pen.right(levelTick(level), plot.area.getX() - 8.0f, y + 0.33f * style.size, labelRoom - inset + 4.0f,
                      style);
    }
}

void drawLevels(Pen& pen, const Plot& plot, const std::deque<TrendPoint>& trend)
{
    juce::Path line, dots;
    bool drawing = false;
    for (std::size_t i = 0; i < trend.size(); ++i) {
        if (!trend[i].level_dB) {
            drawing = false;
            continue;
        }
        const juce::Point<float> here(plot.x(i, trend.size()), plot.y(*trend[i].level_dB));
        drawing ? line.lineTo(here) : line.startNewSubPath(here);
        const bool alone = !drawing && (i + 1 == trend.size() || !trend[i + 1].level_dB);
        if (alone)
            dots.addEllipse(juce::Rectangle<float>(2.4f, 2.4f).withCentre(here));
        drawing = true;
    }
    pen.stroke(line, colours::measured, 1.6f);
    pen.fill(dots, colours::measured);
}

bool hasLevel(const std::deque<TrendPoint>& trend)
{
    return std::any_of(trend.begin(), trend.end(), [](const TrendPoint& p) { return p.level_dB.has_value(); });
}

struct Legend
{
    std::string title;
    bool tone, expected; // whether that line is named

    float lead() const { return title.empty() && !tone ? 0.0f : 14.0f; } // before the expected one

    float width(const Pen& pen, const TextStyle& style) const
    {
        return pen.width(title, style) + (tone ? 46.0f + pen.width("tone", style) : 0.0f) +
               (expected ? lead() + 28.0f + pen.width("expected", style) : 0.0f);
    }
};

// The fullest that there is room for.
Legend legendFor(const Pen& pen, const LiveView& view, const TextStyle& style, float room)
{
    const std::string state = std::string(view.simulated ? ", simulated" : "") + (view.hold ? ", held" : "");
    const std::string full = unitOf(view) + state, brief = state.empty() ? full : state.substr(2);
    const bool expected = view.reading.expected && view.reading.referenced;
    for (const Legend& legend : {Legend{full, true, expected}, Legend{brief, true, expected},
                                 Legend{full, false, expected}, Legend{brief, false, expected},
                                 Legend{state.empty() ? "" : brief, false, expected}, Legend{full, false, false}})
        if (legend.width(pen, style) <= room)
            return legend;
    return {brief, false, false};
}

// What the two lines are, each with a piece of itself.
void drawLegend(Pen& pen, const LiveView& view, juce::Range<float> across, const Measures& m)
{
    const TextStyle style{m.between(11, 12), false, colours::grey};
    const Legend legend = legendFor(pen, view, style, across.getLength());
    const float base = m.between(17, 22), middle = base - 0.33f * style.size, sample = 22.0f;
    float x = across.getStart();
    const auto word = [&](const std::string& text) {
        const float width = pen.width(text, style);
        pen.left(text, x, base, width, style);
        x += width;
    };
    word(legend.title);
    if (legend.tone) {
        x += 18.0f;
        pen.line(x, middle, x + sample, middle, colours::measured, 1.6f);
        x += sample + 6.0f;
        word("tone");
    }
    if (legend.expected) {
        x += legend.lead();
        pen.dashes(x, x + sample, middle, colours::expected, 1.5f);
        x += sample + 6.0f;
        word("expected");
    }
}

} // namespace

TrendRange trendRange(const LiveView& view)
{
    std::optional<double> low, high;
    const auto include = [&](double level) {
        low = std::min(low.value_or(level), level);
        high = std::max(high.value_or(level), level);
    };
    for (const auto& point : view.trend)
        if (point.level_dB)
            include(*point.level_dB);
    if (view.reading.expected && view.reading.referenced)
        include(view.reading.expected->level_dB);
    if (!low)
        return {};
    constexpr double steps_dB[] = {1.0, 2.0, 5.0, 10.0, 20.0, 50.0};
    constexpr double air = 0.3; // of a step, above and below what is drawn
    for (const double step : steps_dB) {
        TrendRange range{std::floor(*low / step - air) * step, std::ceil(*high / step + air) * step, step};
        while ((range.high_dB - range.low_dB) / step < 2.5) // three distances at least
            ((*low - range.low_dB) < (range.high_dB - *high)) ? range.low_dB -= step : range.high_dB += step;
        if ((range.high_dB - range.low_dB) / step < 4.5)
            return range;
    }
    return {std::floor(*low / 100.0) * 100.0, std::ceil(*high / 100.0) * 100.0, 100.0};
}

Picture trendPicture(const LiveView& view, juce::Point<float> size, juce::Range<float> legend, const Measures& m,
                     const Fonts& fonts)
{
    Pen pen(fonts);
    const juce::Rectangle<float> whole(size.x, size.y);
    pen.box(whole.reduced(0.5f), 6.0f, colours::card, colours::edge);
    drawLegend(pen, view, legend, m);

    const Plot plot{whole.withTrimmedLeft(labelRoom)
                        .withTrimmedRight(inset)
                        .withTrimmedTop(m.between(30, 41))
                        .withTrimmedBottom(m.between(13, 30)),
                    trendRange(view)};
    drawGrid(pen, plot, hasLevel(view.trend), m);
    if (view.reading.expected && view.reading.referenced)
        pen.dashes(plot.area.getX(), plot.area.getRight(), plot.y(view.reading.expected->level_dB), colours::expected,
                   1.5f);
    drawLevels(pen, plot, view.trend);
    if (!hasLevel(view.trend))
        pen.centre("no tone in the last 60 s", plot.area.getCentreX(), plot.area.getCentreY(), plot.area.getWidth(),
                   {m.between(12, 13), false, colours::grey});
    return pen.picture;
}

} // namespace couplet
