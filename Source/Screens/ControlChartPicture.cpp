// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ControlChartPicture.h"

#include "Screens/Pen.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr float side = 8.0f; // air beside the first and the last point

juce::Rectangle<float> plotArea(juce::Point<float> size, const Measures& m)
{
    return juce::Rectangle<float>(size.x, size.y)
        .withTrimmedLeft(m.between(38, 42))
        .withTrimmedRight(m.between(2, 6))
        .withTrimmedTop(m.between(6, 8))
        .withTrimmedBottom(m.between(6, 8));
}

float xOf(std::size_t index, std::size_t count, juce::Rectangle<float> plot)
{
    if (count < 2)
        return plot.getCentreX();
    const float part = static_cast<float>(index) / static_cast<float>(count - 1);
    return plot.getX() + side + part * (plot.getWidth() - 2.0f * side);
}

struct Span
{
    double low, high;
    void include(double value)
    {
        low = std::min(low, value);
        high = std::max(high, value);
    }
};

std::optional<Span> spanOf(const ReferenceHistory& history)
{
    std::optional<Span> span;
    const auto include = [&span](double value) {
        if (span)
            span->include(value);
        else
            span = Span{value, value};
    };
    for (const auto& point : history.points)
        if (point.counts() && !point.beforeStep)
            include(point.chain_dB);
    for (const auto& limit : {history.chart.low_dB, history.chart.high_dB})
        if (limit)
            include(*limit);
    if (!span)
        for (const auto& point : history.points)
            include(point.chain_dB);
    if (!span)
        return span;
    const double widest = std::max(span->high - span->low, 0.3);
    const Span counting = *span;
    for (const auto& point : history.points)
        if (point.chain_dB > counting.low - widest && point.chain_dB < counting.high + widest)
            span->include(point.chain_dB);
    return span;
}

class Chart
{
public:
    Chart(const ReferenceHistory& h, std::optional<std::size_t> s, juce::Point<float> size, const Measures& measures,
          const Fonts& fonts)
        : history(h), selected(s), m(measures), pen(fonts), plot(plotArea(size, measures)), range(chartRange(h))
    {
        radius = history.points.size() > 80 ? 2.0f : m.between(2.6f, 3.4f);
    }

    Picture draw()
    {
        grid();
        band();
        points();
        reasons();
        return std::move(pen.picture);
    }

private:
    float y(double offset_dB) const
    {
        const double part = (offset_dB - range.low_dB) / (range.high_dB - range.low_dB);
        return plot.getBottom() - static_cast<float>(std::clamp(part, 0.0, 1.0)) * plot.getHeight();
    }
    bool beyond(double offset_dB) const { return offset_dB < range.low_dB || offset_dB > range.high_dB; }
    juce::Point<float> place(std::size_t i) const
    {
        return {xOf(i, history.points.size(), plot), y(history.points[i].chain_dB)};
    }

    void grid()
    {
        const TextStyle style{m.between(10, 11), false, colours::grey};
        if (history.points.empty()) {
            pen.centre("no reference yet", plot.getCentreX(), plot.getCentreY() + 4.0f, plot.getWidth(),
                       {m.between(12, 13), false, colours::grey});
            return;
        }
        const int count = static_cast<int>(std::lround((range.high_dB - range.low_dB) / range.step_dB));
        const int decimals = range.step_dB < 0.999 ? 1 : 0;
        const int each = plot.getHeight() / static_cast<float>(count) >= style.size + 2.0f ? 1 : count;
        for (int i = 0; i <= count; ++i) {
            const double level = range.low_dB + i * range.step_dB;
            const float at = std::round(y(level)) + 0.5f;
            pen.line(plot.getX(), at, plot.getRight(), at, colours::edge, 1.0f);
            if (i % each == 0)
                pen.right((level < -1e-9 ? "\u2212" : "") + fmt::format("{:.{}f}", std::abs(level), decimals),
                          plot.getX() - 5.0f, at + 0.36f * style.size, plot.getX() - 5.0f, style);
        }
    }

    // Between the last reference before the newest step and the one that made it; without a step the plot's own edge.
    float stepLeft() const
    {
        const auto& all = history.points;
        const auto first = static_cast<std::size_t>(
            std::find_if(all.begin(), all.end(), [](const HistoryPoint& p) { return !p.beforeStep; }) - all.begin());
        if (first == 0 || first >= all.size())
            return plot.getX();
        return std::round(0.5f * (place(first - 1).x + place(first).x)) + 0.5f;
    }

    void band()
    {
        const ControlChart& chart = history.chart;
        const float left = stepLeft();
        if (left > plot.getX())
            pen.line(left, plot.getY(), left, plot.getBottom(), colours::ink, 1.0f);
        if (chart.low_dB && chart.high_dB) {
            juce::Path area;
            const float top = y(*chart.high_dB);
            area.addRectangle(left, top, plot.getRight() - left, std::max(1.0f, y(*chart.low_dB) - top));
            pen.fill(area, colours::expected.withAlpha(0.1f));
        }
        if (chart.mean_dB)
            pen.dashes(left, plot.getRight(), y(*chart.mean_dB), colours::ink, 1.0f);
    }

    void points()
    {
        juce::Path filled, hollow, outside;
        const auto dot = [](juce::Path& path, juce::Point<float> at, float r) {
            path.addEllipse(juce::Rectangle<float>(2.0f * r, 2.0f * r).withCentre(at));
        };
        for (std::size_t i = 0; i < history.points.size(); ++i) {
            const HistoryPoint& point = history.points[i];
            const auto at = place(i);
            if (beyond(point.chain_dB)) {
                const float up = point.chain_dB > range.high_dB ? 1.0f : -1.0f, r = 1.4f * radius;
                (point.counts() ? filled : hollow)
                    .addTriangle(at.translated(-r, up * r), at.translated(r, up * r), at.translated(0.0f, -up * r));
            }
            else {
                dot(point.counts() ? filled : hollow, at, radius);
            }
            if (point.counts() && point.outside)
                dot(outside, at, radius + 3.0f);
        }
        pen.fill(hollow, colours::card);
        pen.stroke(hollow, colours::measured, 1.4f);
        pen.fill(filled, colours::measured);
        pen.stroke(outside, colours::ink, 1.2f);
        if (selected && *selected < history.points.size()) {
            juce::Path ring;
            const auto at = place(*selected);
            ring.addRectangle(juce::Rectangle<float>(2.0f * radius + 8.0f, 2.0f * radius + 8.0f).withCentre(at));
            pen.stroke(ring, colours::ink, 1.2f);
        }
    }

    // Why a point was set aside, beside it, where nothing else stands.
    void reasons()
    {
        const TextStyle style{m.between(10, 11), false, colours::grey};
        std::vector<juce::Rectangle<float>> taken;
        for (std::size_t i = 0; i < history.points.size(); ++i)
            taken.push_back(juce::Rectangle<float>(2.0f * radius + 4.0f, 2.0f * radius + 4.0f).withCentre(place(i)));
        if (history.chart.mean_dB)
            taken.emplace_back(plot.getX(), y(*history.chart.mean_dB) - 1.0f, plot.getWidth(), 2.0f);
        for (std::size_t i = history.points.size(); i-- > 0;) {
            const HistoryPoint& point = history.points[i];
            if (point.setAside.empty())
                continue;
            const float most = 0.45f * plot.getWidth();
            const auto whole = point.setAside + ", set aside";
            const auto words = pen.width(whole, style) <= most ? whole : pen.shortened(point.setAside, most, style);
            const float width = pen.width(words, style), height = style.size;
            const auto at = place(i);
            for (const float left : {at.x - radius - 7.0f - width, at.x + radius + 7.0f}) {
                const float baseline = std::clamp(at.y + 0.36f * style.size, plot.getY() + 0.8f * height,
                                                  plot.getBottom() - 0.25f * height);
                const juce::Rectangle<float> room(left, baseline - 0.85f * height, width, 1.1f * height);
                const bool free = room.getX() >= plot.getX() + 2.0f && room.getRight() <= plot.getRight() &&
                                  std::none_of(taken.begin(), taken.end(),
                                               [&room](const auto& other) { return room.intersects(other); });
                if (!free)
                    continue;
                pen.left(words, left, baseline, width + 0.5f, style);
                taken.push_back(room);
                break;
            }
        }
    }

    const ReferenceHistory& history;
    const std::optional<std::size_t> selected;
    const Measures& m;
    Pen pen;
    const juce::Rectangle<float> plot;
    const ChartRange range;
    float radius = 3.4f;
};

} // namespace

ChartRange chartRange(const ReferenceHistory& history)
{
    const auto span = spanOf(history);
    if (!span)
        return {};
    constexpr double steps_dB[] = {0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0};
    constexpr double air = 0.2; // of a step, above and below what is drawn
    for (const double step : steps_dB) {
        ChartRange range{std::floor(span->low / step - air) * step, std::ceil(span->high / step + air) * step, step};
        while ((range.high_dB - range.low_dB) / step < 3.5) // four distances at least
            (span->low - range.low_dB) < (range.high_dB - span->high) ? range.low_dB -= step : range.high_dB += step;
        if ((range.high_dB - range.low_dB) / step < 5.5)
            return range;
    }
    return {std::floor(span->low / 100.0) * 100.0, std::ceil(span->high / 100.0 + 0.1) * 100.0, 100.0};
}

Picture controlChartPicture(const ReferenceHistory& history, std::optional<std::size_t> selected,
                            juce::Point<float> size, const Measures& measures, const Fonts& fonts)
{
    return Chart(history, selected, size, measures, fonts).draw();
}

std::optional<std::size_t> pointNear(const ReferenceHistory& history, float x, juce::Point<float> size,
                                     const Measures& m)
{
    const std::size_t count = history.points.size();
    if (count == 0)
        return {};
    const auto plot = plotArea(size, m);
    const float part = (x - plot.getX() - side) / std::max(1.0f, plot.getWidth() - 2.0f * side);
    const float index = std::round(part * static_cast<float>(count - 1));
    return static_cast<std::size_t>(std::clamp(index, 0.0f, static_cast<float>(count - 1)));
}

} // namespace couplet
