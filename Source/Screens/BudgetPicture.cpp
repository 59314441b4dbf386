// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/BudgetPicture.h"

#include "Quantities/QuantityText.h"
#include "Screens/Pen.h"
#include "Screens/ReferenceWords.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

std::vector<BudgetRow> largestFirst(std::vector<BudgetRow> rows)
{
    std::stable_sort(rows.begin(), rows.end(),
                     [](const BudgetRow& a, const BudgetRow& b) { return a.share_percent > b.share_percent; });
    return rows;
}

void drawMissing(Pen& pen, const ReferenceView& view, juce::Point<float> size, const Measures& m)
{
    const TextStyle style{m.between(11.5f, 13)};
    const float pitch = style.size + m.between(3, 5);
    float y = 0.8f * style.size + 2.0f;
    auto said = view.missing;
    if (said.empty())
        said.emplace_back(view.offset_dB ? "This reference has no budget."
                                         : "It is known with the first reference, or while the calibrator sounds.");
    for (const auto& text : said) {
        const int lines = pen.linesFor(text, size.x - 14.0f, style);
        if (y + pitch * static_cast<float>(lines - 1) > size.y)
            return;
        if (!view.missing.empty())
            pen.mark(Mark::attention, 0.0f, y - 0.36f * style.size, 10.0f, colours::ink);
        pen.paragraph(text, view.missing.empty() ? 0.0f : 14.0f, y, size.x - 14.0f, pitch, lines, style);
        y += pitch * static_cast<float>(lines);
    }
}

class Table
{
public:
    Table(const ReferenceView& v, float w, const Measures& measures, const Fonts& fonts)
        : view(v), width(w), m(measures),
          pen(fonts), style{m.between(11.5f, 13)}, grey{m.between(11, 12), false, colours::grey}
    {
        pitch = m.between(15, 19);
        next = 0.8f * style.size + 2.0f;
        term = 0.26f * width;
        u = term + 0.08f * width;
        share = u + 0.08f * width;
        degrees = share + 0.10f * width;
        shape = degrees + 0.025f * width;
        obtained = shape + 0.12f * width;
    }

    BudgetTable draw()
    {
        head();
        for (const BudgetRow& r : view.budget)
            row(r);
        totals();
        return {std::move(pen.picture), next};
    }

private:
    void left(const std::string& text, float from, float to, const TextStyle& s)
    {
        pen.left(pen.shortened(text, to - from - 6.0f, s), from, next, to - from - 6.0f, s);
    }
    void right(const std::string& text, float at, const TextStyle& s)
    {
        pen.right(text, at, next, pen.width(text, s) + 1.0f, s);
    }
    void rule()
    {
        const float y = std::round(next + 0.3f * style.size) + 0.5f;
        pen.line(0.0f, y, width, y, colours::ink, 1.0f);
        next += pitch + 2.0f;
    }

    void head()
    {
        left("term", 0.0f, term, grey);
        right("u, dB", u, grey);
        right("share", share, grey);
        right("degrees", degrees, grey);
        left("shape", shape, obtained, grey);
        left("how it was obtained", obtained, width + 6.0f, grey);
        rule();
    }

    void row(const BudgetRow& r)
    {
        left(r.term.name, 0.0f, u - 34.0f, style);
        right(standardText(r.term.u_dB), u, style);
        right(shareText(r.share_percent), share, style);
        right(degreesText(r.term.degreesOfFreedom), degrees, style);
        left(r.term.shape == Shape::normal ? "normal" : "rectangular", shape, obtained, style);
        left(r.term.obtained, obtained, width + 6.0f, style);
        next += pitch;
    }

    void totals()
    {
        if (!view.expanded)
            return;
        next -= pitch;
        rule();
        const Expanded& e = *view.expanded;
        left("combined", 0.0f, term, style);
        right(standardText(e.u_dB), u, style);
        right(degreesText(e.degreesOfFreedom), degrees, style);
        const auto sum =
            fmt::format("U = k u with k = {:.2f}: {} dB for 95.45 %", e.coverageFactor, uncertaintyText(e.U_dB));
        TextStyle bold = style;
        bold.bold = true;
        left(sum, shape, width + 6.0f, bold);
        next += pitch;
    }

    const ReferenceView& view;
    const float width;
    const Measures& m;
    Pen pen;
    const TextStyle style, grey;
    float pitch = 0.0f, next = 0.0f;
    float term, u, share, degrees, shape, obtained;
};

} // namespace

Picture budgetBars(const ReferenceView& view, juce::Point<float> size, const Measures& m, const Fonts& fonts)
{
    Pen pen(fonts);
    if (view.budget.empty()) {
        drawMissing(pen, view, size, m);
        return pen.picture;
    }
    const TextStyle style{m.between(11.5f, 13)}, grey{m.between(11, 12), false, colours::grey};
    auto rows = largestFirst(view.budget);
    const float least = style.size + 2.0f;
    const auto fitting = static_cast<std::size_t>(std::max(1.0f, size.y / least));
    const std::size_t all = rows.size();
    if (all > fitting)
        rows.resize(std::max<std::size_t>(1, fitting - 1));
    const std::size_t lines = rows.size() + (rows.size() < all ? 1 : 0);
    const float pitch = std::min(m.between(16, 22), size.y / static_cast<float>(lines));
    float names = 0.0f;
    for (const auto& row : rows)
        names = std::max(names, pen.width(row.term.name, style));
    names = std::min(names + m.between(8, 16), 0.56f * size.x);
    const std::string widest = "100 %   0.000";
    const float longest = std::max(10.0f, size.x - names - pen.width(widest, grey) - 10.0f);
    float y = std::min(pitch, 0.8f * style.size + 4.0f);
    for (const auto& row : rows) {
        const float room = names - 6.0f;
        pen.left(pen.shortened(row.term.name, room, style), 0.0f, y, room, style);
        const float length = std::max(1.0f, static_cast<float>(row.share_percent) / 100.0f * longest);
        const float height = m.between(8, 10);
        juce::Path bar;
        bar.addRoundedRectangle(names, y - 0.36f * style.size - height / 2.0f, length, height, 2.0f);
        pen.fill(bar, colours::measured);
        const auto words = shareText(row.share_percent) + "   " + standardText(row.term.u_dB);
        pen.left(words, names + length + 8.0f, y, pen.width(words, grey) + 1.0f, grey);
        y += pitch;
    }
    if (rows.size() < all)
        pen.left(fmt::format("{} more, in the table", all - rows.size()), 0.0f, y, size.x, grey);
    return pen.picture;
}

BudgetTable budgetTable(const ReferenceView& view, float width, const Measures& measures, const Fonts& fonts)
{
    return Table(view, width, measures, fonts).draw();
}

} // namespace couplet
