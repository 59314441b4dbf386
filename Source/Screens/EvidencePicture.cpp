// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/EvidencePicture.h"

#include "Bench/FitWords.h"
#include "Quantities/QuantityText.h"
#include "Screens/Pen.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace couplet {
namespace {

class Plot
{
public:
    Plot(const std::vector<EvidenceItem>& i, const CorrectionFit& f, const EvidencePlot& p, const Measures& m,
         const Fonts& fonts)
        : items(i), fit(f), plot(p), small{m.between(10.5f, 12)}, pen(fonts)
    {
    }

    Picture draw(std::optional<std::size_t> pointed)
    {
        axis();
        if (pointed && *pointed < items.size())
            band(*pointed);
        for (std::size_t i = 0; i < items.size(); ++i)
            item(i);
        density();
        result();
        return std::move(pen.picture);
    }

private:
    void axis()
    {
        const int first = static_cast<int>(std::ceil(plot.low_dB / plot.step_dB));
        const int last = static_cast<int>(std::floor(plot.high_dB / plot.step_dB));
        const int decimals = plot.step_dB >= 1.0 ? 0 : plot.step_dB >= 0.1 ? 1 : 2;
        const TextStyle style{small.size, false, colours::grey};
        for (int i = first; i <= last; ++i) {
            const float x = plot.x(i * plot.step_dB);
            pen.line(x, plot.area.getY(), x, plot.base + 4.0f, colours::edge, 1.0f);
            auto text = fmt::format("{:.{}f}", std::abs(i * plot.step_dB), decimals);
            pen.centre(i < 0 ? "\u2212" + text : text, x, plot.base + 7.0f + small.size, 44.0f, style);
        }
    }

    void band(std::size_t i)
    {
        juce::Path path;
        const float height = std::max(plot.pitch, 3.0f);
        path.addRectangle(6.0f, plot.y(i) - height / 2.0f, plot.area.getRight() - 6.0f, height);
        pen.fill(path, colours::edge.withAlpha(0.55f));
    }

    void item(std::size_t i)
    {
        const auto& one = items[i];
        const float y = plot.y(i), size = std::clamp(plot.pitch / 3.0f, 2.0f, 8.0f);
        const auto colour = one.isEarphone ? colours::expected : colours::measured;
        if (plot.named) {
            const float left = 16.0f, room = plot.area.getX() - left - (one.contradicts ? 20.0f : 8.0f);
            pen.left(pen.shortened(one.name, room, small), left, y + 0.34f * small.size, room, small);
            if (one.contradicts)
                pen.mark(Mark::attention, plot.area.getX() - 20.0f, y, 12.0f, colours::ink);
        }
        if (one.range && (plot.holds(one.range->low_dB) || plot.holds(one.range->high_dB) ||
                          (one.range->low_dB < plot.low_dB && one.range->high_dB > plot.high_dB)))
            pen.line(plot.x(one.range->low_dB), y, plot.x(one.range->high_dB), y, colour,
                     std::min(one.takesPart ? 2.0f : 1.0f, std::max(0.3f, 0.5f * plot.pitch)));
        juce::Path mark;
        if (plot.holds(one.says_dB)) {
            const juce::Rectangle<float> box(plot.x(one.says_dB) - size / 2.0f, y - size / 2.0f, size, size);
            if (one.isEarphone)
                mark.addRectangle(box);
            else
                mark.addEllipse(box);
        }
        else {
            outside(one, y, size, mark);
        }
        pen.fill(mark, one.takesPart ? colour : colours::card);
        if (!one.takesPart)
            pen.stroke(mark, colour, 1.4f);
    }

    // Beyond the axis: an arrowhead at the edge, with the number where there is room.
    void outside(const EvidenceItem& one, float y, float size, juce::Path& mark)
    {
        const bool right = one.says_dB > plot.high_dB;
        const float edge = right ? plot.area.getRight() : plot.area.getX(), by = right ? -size : size;
        mark.addTriangle(edge + by, y - size / 2.0f, edge + by, y + size / 2.0f, edge, y);
        if (!plot.named)
            return;
        const auto text = levelText(one.says_dB);
        const float base = y + 0.34f * small.size, width = pen.width(text, small) + 1.0f;
        if (right)
            pen.right(text, edge - size - 4.0f, base, width, small);
        else
            pen.left(text, edge + size + 4.0f, base, width, small);
    }

    void density()
    {
        pen.line(plot.area.getX(), plot.base, plot.area.getRight(), plot.base, colours::edge, 1.0f);
        const auto& curve = fit.posterior.curve;
        double highest = 0.0;
        for (const auto& point : curve)
            highest = std::max(highest, point.density);
        if (highest > 0.0) {
            juce::Path path;
            path.startNewSubPath(plot.x(curve.front().c_dB), plot.base);
            for (const auto& point : curve)
                path.lineTo(plot.x(point.c_dB),
                            plot.base - plot.densityHeight * static_cast<float>(point.density / highest));
            path.lineTo(plot.x(curve.back().c_dB), plot.base);
            path.closeSubPath();
            pen.fill(path, colours::ink.withAlpha(0.25f));
        }
        const TextStyle bold{small.size, true};
        pen.left("what remains", 16.0f, plot.base - 12.0f, plot.area.getX() - 20.0f, bold);
        if (fit.hasUncertainty())
            pen.line(plot.x(fit.posterior.all.low_dB), plot.base, plot.x(fit.posterior.all.high_dB), plot.base,
                     colours::ink, 2.0f);
        if (fit.posterior.peaks_dB.size() > 1)
            for (const double peak : fit.posterior.peaks_dB) {
                juce::Path path;
                const float x = plot.x(peak), y = plot.base;
                path.addTriangle(x - 4.0f, y + 5.0f, x + 4.0f, y + 5.0f, x, y - 2.0f);
                pen.fill(path, colours::ink);
            }
    }

    void result()
    {
        constexpr float dash = 5.0f, gap = 3.0f, width = 1.4f;
        const float x = plot.x(fit.correction_dB());
        juce::Path path;
        const float top = plot.area.getY();
        const int dashes = static_cast<int>(std::ceil((plot.base - top) / (dash + gap)));
        for (int i = 0; i < dashes; ++i) {
            const float y = top + static_cast<float>(i) * (dash + gap);
            path.addRectangle(x - width / 2.0f, y, width, std::min(dash, plot.base - y));
        }
        pen.fill(path, colours::ink);
    }

    const std::vector<EvidenceItem>& items;
    const CorrectionFit& fit;
    const EvidencePlot& plot;
    const TextStyle small;
    Pen pen;
};

} // namespace

Picture evidencePicture(const std::vector<EvidenceItem>& items, const CorrectionFit& fit, const EvidencePlot& plot,
                        std::optional<std::size_t> pointed, const Measures& measures, const Fonts& fonts)
{
    return Plot(items, fit, plot, measures, fonts).draw(pointed);
}

std::vector<EvidenceNumber> evidenceNumbers(const std::vector<EvidenceItem>& items, const CorrectionFit& fit,
                                            std::size_t item)
{
    std::vector<EvidenceNumber> numbers;
    if (item >= items.size()) {
        const auto& all = fit.posterior.all;
        numbers.push_back({"", levelText(all.mean_dB), all.mean_dB});
        if (fit.hasUncertainty()) {
            numbers.push_back({"from", loweredText(all.low_dB), all.low_dB});
            numbers.push_back({"to", raisedText(all.high_dB), all.high_dB});
        }
        if (fit.posterior.peaks_dB.size() > 1)
            for (const double peak : fit.posterior.peaks_dB)
                numbers.push_back({"peak", levelText(peak), peak});
        return numbers;
    }
    const auto& one = items[item];
    numbers.push_back({"", levelText(one.says_dB), one.says_dB});
    if (one.range) {
        numbers.push_back({"from", levelText(one.range->low_dB), one.range->low_dB});
        numbers.push_back({"to", levelText(one.range->high_dB), one.range->high_dB});
    }
    if (one.without_dB)
        numbers.push_back({"without it", levelText(*one.without_dB), *one.without_dB});
    return numbers;
}

} // namespace couplet
