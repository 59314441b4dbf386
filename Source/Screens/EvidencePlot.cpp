// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/EvidencePlot.h"

#include "Library/Utf8.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

// In widths of the result's interval: what lies further off is no reason to see the result smaller.
constexpr double furthest = 2.5;        // of what a piece says, from the interval
constexpr double furthestAtLeast = 2.0; // dB
constexpr double tail = 0.35;           // of the density, beside the interval
constexpr double whisker = 0.75;        // of a range, beside all that is said
constexpr double roundedBy = 0.35;      // of a step, at most: so far an end goes outward to a whole one
constexpr int mostSteps = 6;

struct Span
{
    double low_dB, high_dB;

    double width_dB() const { return high_dB - low_dB; }
    bool holds(double c_dB) const { return c_dB >= low_dB && c_dB <= high_dB; }
    Span wider(double by_dB) const { return {low_dB - by_dB, high_dB + by_dB}; }
    void take(double c_dB)
    {
        low_dB = std::min(low_dB, c_dB);
        high_dB = std::max(high_dB, c_dB);
    }
};

// From the interval to where the nearer half of what counts is held: a result between two camps shows one at least.
double toHalf_dB(const std::vector<EvidenceItem>& items, const Span& core)
{
    std::vector<double> distances_dB;
    for (const auto& item : items)
        if (item.takesPart)
            distances_dB.push_back(std::max({0.0, core.low_dB - item.says_dB, item.says_dB - core.high_dB}));
    if (distances_dB.empty())
        return 0.0;
    const auto middle = distances_dB.begin() + static_cast<std::ptrdiff_t>((distances_dB.size() - 1) / 2);
    std::nth_element(distances_dB.begin(), middle, distances_dB.end());
    return *middle;
}

// The result, and what counts for it unless that is far off.
Span shownSpan(const std::vector<EvidenceItem>& items, const CorrectionFit& fit)
{
    const auto& all = fit.posterior.all;
    Span core{all.low_dB, all.high_dB};
    for (const double peak : fit.posterior.peaks_dB)
        core.take(peak);
    const double width_dB = core.width_dB();
    Span shown = core.wider(tail * width_dB);
    const auto& curve = fit.posterior.curve;
    if (!curve.empty()) // it may end before
        shown = {std::min(core.low_dB, std::max(shown.low_dB, curve.front().c_dB)),
                 std::max(core.high_dB, std::min(shown.high_dB, curve.back().c_dB))};
    const Span near = core.wider(std::max({furthest * width_dB, furthestAtLeast, toHalf_dB(items, core)}));
    for (const auto& item : items)
        if (item.takesPart && near.holds(item.says_dB))
            shown.take(item.says_dB);
    const Span whiskers = shown.wider(whisker * width_dB);
    for (const auto& item : items)
        if (item.takesPart && item.range && near.holds(item.says_dB)) {
            shown.take(std::max(item.range->low_dB, whiskers.low_dB));
            shown.take(std::min(item.range->high_dB, whiskers.high_dB));
        }
    return shown;
}

double stepFor(double span_dB)
{
    double step = 0.01;
    for (int i = 0; span_dB / step > mostSteps && i < 40; ++i)
        step *= i % 3 == 1 ? 2.5 : 2.0; // 0.01, 0.02, 0.05, 0.1, ...
    return step;
}

} // namespace

std::vector<EvidenceItem> evidenceItems(const FitView& view)
{
    std::vector<EvidenceItem> items;
    if (!view.fit)
        return items;
    const auto mean = [](const std::optional<DensitySummary>& without) {
        return without ? std::optional(without->mean_dB) : std::nullopt;
    };
    for (const auto& f : view.fit->fittings)
        if (f.says_dB)
            items.push_back({onOneLine(f.name), false, true, false, *f.says_dB, f.range, mean(f.without)});
    for (const auto& e : view.fit->earphones)
        if (e.setAside.empty())
            items.push_back({onOneLine(e.name), true, e.takesPart, e.contradicts.value_or(false), e.says_dB, e.range,
                             e.takesPart ? mean(e.without) : std::nullopt});
    return items;
}

EvidencePlot EvidencePlot::within(const std::vector<EvidenceItem>& items, const CorrectionFit& fit,
                                  juce::Point<float> size, const Measures& m)
{
    const Span span = shownSpan(items, fit);
    EvidencePlot plot;
    plot.step_dB = stepFor(std::max(span.width_dB(), 0.02));
    const double air = 0.1 * plot.step_dB;
    const double low = std::floor(span.low_dB / plot.step_dB + 1e-9) * plot.step_dB;
    const double high = std::ceil(span.high_dB / plot.step_dB - 1e-9) * plot.step_dB;
    plot.low_dB = (span.low_dB - low <= roundedBy * plot.step_dB ? low : span.low_dB) - air;
    plot.high_dB = (high - span.high_dB <= roundedBy * plot.step_dB ? high : span.high_dB) + air;

    const float left = m.between(104, 119), right = size.x - m.between(14, 18);
    const float top = m.between(26, 40), bottom = size.y - m.between(20, 34);
    plot.base = bottom - m.between(2, 4);
    const auto count = static_cast<float>(std::max<std::size_t>(1, items.size()));
    const float room = plot.base - m.between(6, 12) - top;
    // In a low card the density makes room for the items' names.
    constexpr float leastDensity = 18.0f;
    const float tightest = m.between(10, 11), clear = m.between(12, 14);
    plot.densityHeight = std::min(m.between(34, 56), std::round(0.17f * size.y));
    if (room - leastDensity >= tightest * count)
        plot.densityHeight = std::min(plot.densityHeight, std::max(leastDensity, room - clear * count));
    plot.area = {left, top, right - left, room - plot.densityHeight};
    plot.pitch = std::min(m.between(20, 24), plot.area.getHeight() / count);
    plot.named = plot.pitch >= tightest;
    plot.nameSize = std::min(m.between(10.5f, 12), 0.92f * plot.pitch);
    if (plot.pitch >= m.between(20, 24) && plot.area.getHeight() - plot.pitch * count > plot.pitch)
        plot.area.removeFromTop(m.between(0, 4));
    return plot;
}

float EvidencePlot::x(double c_dB) const
{
    const double share = (c_dB - low_dB) / (high_dB - low_dB);
    return area.getX() + area.getWidth() * static_cast<float>(std::clamp(share, 0.0, 1.0));
}

std::optional<std::size_t> EvidencePlot::itemAt(juce::Point<float> point, std::size_t items) const
{
    const float below = (point.y - area.getY()) / pitch;
    if (below >= 0.0f && below < static_cast<float>(items))
        return std::min(items - 1, static_cast<std::size_t>(below));
    return point.y > area.getBottom() && point.y <= base + 20.0f ? std::optional(items) : std::nullopt;
}

} // namespace couplet
