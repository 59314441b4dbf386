// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/EvidencePlot.h"

#include "Library/Utf8.h"

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

constexpr double widest = 4.0;   // times the result's interval to either side, or
constexpr double atLeast_dB = 3; // whichever is wider
constexpr int mostSteps = 6;

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
    const auto& all = fit.posterior.all;
    double low = all.low_dB, high = all.high_dB;
    if (!fit.posterior.curve.empty()) {
        low = std::min(low, fit.posterior.curve.front().c_dB);
        high = std::max(high, fit.posterior.curve.back().c_dB);
    }
    const double reach = std::max({widest * (all.high_dB - all.low_dB), atLeast_dB, high - low});
    const double least = all.mean_dB - reach, most = all.mean_dB + reach;
    for (const auto& item : items) {
        if (item.says_dB < least || item.says_dB > most)
            continue;
        const double from = item.range ? item.range->low_dB : item.says_dB;
        const double to = item.range ? item.range->high_dB : item.says_dB;
        low = std::min(low, std::max(from, least));
        high = std::max(high, std::min(to, most));
    }
    EvidencePlot plot;
    plot.step_dB = stepFor(std::max(high - low, 0.02));
    const double air = 0.1 * plot.step_dB;
    plot.low_dB = std::floor(low / plot.step_dB + 1e-9) * plot.step_dB - air;
    plot.high_dB = std::ceil(high / plot.step_dB - 1e-9) * plot.step_dB + air;

    const float left = m.between(104, 119), right = size.x - m.between(14, 18);
    const float top = m.between(26, 40), bottom = size.y - m.between(20, 34);
    plot.densityHeight = m.between(34, 56);
    plot.base = bottom - m.between(2, 4);
    plot.area = {left, top, right - left, plot.base - plot.densityHeight - m.between(6, 12) - top};
    const auto count = static_cast<float>(std::max<std::size_t>(1, items.size()));
    plot.pitch = std::min(m.between(20, 24), plot.area.getHeight() / count);
    plot.named = plot.pitch >= m.between(10, 11);
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
