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
            const TextStyle style{plot.nameSize};
            pen.left(pen.shortened(one.name, room, style), left, y + 0.34f * style.size, room, style);
            if (one.contradicts)
                pen.mark(Mark::attention, plot.area.getX() - 20.0f, y, std::min(12.0f, plot.pitch), colours::ink);
        }
        if (one.range)
            range(one, y, size, colour);
        juce::Path mark;
        if (plot.holds(one.says_dB)) {
            const juce::Rectangle<float> box(plot.x(one.says_dB) - size / 2.0f, y - size / 2.0f, size, size);
            if (one.isEarphone)
                mark.addRectangle(box);
            else
                mark.addEllipse(box);
        }
        else {
            const bool right = one.says_dB > plot.high_dB;
            const float edge = right ? plot.area.getRight() : plot.area.getX(), by = right ? -size : size;
            mark.addTriangle(edge + by, y - size / 2.0f, edge + by, y + size / 2.0f, edge, y);
            numberAtEdge(one.says_dB, right, size, y, small);
        }
        pen.fill(mark, one.takesPart ? colour : colours::card);
        if (!one.takesPart)
            pen.stroke(mark, colour, 1.4f);
    }

    // What is cut by the axis ends in an arrow with its number, unless the piece itself is told there.
    void range(const EvidenceItem& one, float y, float size, juce::Colour colour)
    {
        const float thick = std::min(one.takesPart ? 2.0f : 1.0f, std::max(0.3f, 0.5f * plot.pitch));
        float from = plot.x(one.range->low_dB), to = plot.x(one.range->high_dB);
        const float mark = plot.x(one.says_dB);
        if (one.says_dB < plot.low_dB)
            from += size + numberRoom(one.says_dB);
        else if (one.range->low_dB < plot.low_dB)
            from += cut(one.range->low_dB, false, mark - plot.area.getX(), y, size, colour);
        if (one.says_dB > plot.high_dB)
            to -= size + numberRoom(one.says_dB);
        else if (one.range->high_dB > plot.high_dB)
            to -= cut(one.range->high_dB, true, plot.area.getRight() - mark, y, size, colour);
        if (to > from)
            pen.line(from, y, to, y, colour, thick);
    }

    // Says how much of the line it takes the place of.
    float cut(double end_dB, bool right, float room, float y, float size, juce::Colour colour)
    {
        const float head = 0.6f * size, edge = right ? plot.area.getRight() : plot.area.getX();
        const float back = right ? -head : head;
        juce::Path arrow;
        arrow.startNewSubPath(edge + back, y - head);
        arrow.lineTo(edge, y);
        arrow.lineTo(edge + back, y + head);
        pen.stroke(arrow, colour, std::min(1.4f, std::max(0.5f, 0.3f * plot.pitch)));
        const float taken = head + numberRoom(end_dB);
        if (!plot.named || room < taken + size + 6.0f)
            return 0.0f;
        numberAtEdge(end_dB, right, head, y, {small.size, false, colours::grey});
        return taken;
    }

    float numberRoom(double c_dB) const { return plot.named ? pen.width(levelText(c_dB), small) + 8.0f : 0.0f; }

    void numberAtEdge(double c_dB, bool right, float besides, float y, const TextStyle& style)
    {
        if (!plot.named)
            return;
        const auto text = levelText(c_dB);
        const float base = y + 0.34f * style.size, width = pen.width(text, style) + 1.0f;
        if (right)
            pen.right(text, plot.area.getRight() - besides - 4.0f, base, width, style);
        else
            pen.left(text, plot.area.getX() + besides + 4.0f, base, width, style);
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
            float first = plot.area.getRight(), last = plot.area.getX();
            for (const auto& point : curve) {
                if (!plot.holds(point.c_dB))
                    continue;
                const float x = plot.x(point.c_dB);
                const float y = plot.base - plot.densityHeight * static_cast<float>(point.density / highest);
                if (last < first)
                    path.startNewSubPath(x, y);
                else
                    path.lineTo(x, y);
                first = std::min(first, x);
                last = std::max(last, x);
            }
            if (first <= last) {
                path.lineTo(last, plot.base);
                path.lineTo(first, plot.base);
                path.closeSubPath();
            }
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
