// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/OrdersPicture.h"

#include "Quantities/QuantityText.h"
#include "Screens/SpectrumPicture.h"
#include "Screens/Words.h"

#include <fmt/format.h>

namespace couplet {
namespace {

constexpr float inset = 16.0f;
constexpr int columns = 9;             // orders 2 to 10
constexpr double deepest_dB = 120.0;   // below the tone: the bottom of the bars
constexpr double betweenLines_dB = 40; // of the bars' scale

enum class Row { order, frequency, below, percent };

struct Table
{
    juce::Rectangle<float> bars; // from the tone's level at its top to `deepest_dB` below it
    float names = 0.0f, pitch = 0.0f, column = 0.0f;
    std::vector<Row> rows; // as many as there is room for
    bool hasBars = false;
    TextStyle name, value, order;

    float left(int order_) const { return bars.getX() + column * static_cast<float>(order_ - 2); }
    float base(std::size_t row) const { return bars.getBottom() + pitch * (static_cast<float>(row) + 1.0f); }
    float y(double below_dB) const
    {
        const double part = std::min(1.0, std::max(0.0, below_dB / deepest_dB));
        return std::round(4.0f * (bars.getY() + static_cast<float>(part) * bars.getHeight())) / 4.0f;
    }
};

Table tableFor(juce::Point<float> size, const Measures& m)
{
    Table t;
    t.name = {m.between(10.5f, 12), false, colours::grey};
    t.value = {m.between(10.5f, 13)};
    t.order = {m.between(10.5f, 13), true};
    t.pitch = m.between(13.5f, 18);
    t.names = m.between(92, 124);
    const float top = m.between(31, 44), end = size.y - m.between(5, 9), closest = 24.0f, leastBars = 14.0f;
    t.rows = {Row::order, Row::frequency, Row::below, Row::percent};
    const auto rowsHeight = [&t] { return t.pitch * static_cast<float>(t.rows.size()); };
    t.hasBars = end - rowsHeight() - top >= leastBars;
    if (closest + rowsHeight() > end)
        t.rows = {Row::order, Row::below, Row::percent};
    if (closest + rowsHeight() > end)
        t.rows = {Row::order, Row::below};
    const float barsTop = t.hasBars ? top : std::min(closest, end - rowsHeight());
    t.bars = {inset + t.names, barsTop, size.x - 2.0f * inset - t.names,
              t.hasBars ? end - rowsHeight() - barsTop : 0.0f};
    t.column = t.bars.getWidth() / static_cast<float>(columns);
    return t;
}

void drawScale(Pen& pen, const Table& t)
{
    for (int i = 0; i * betweenLines_dB <= deepest_dB; ++i) {
        const double below = i * betweenLines_dB;
        const float y = std::round(t.y(below)) + 0.5f;
        pen.line(t.bars.getX(), y, t.bars.getRight(), y, colours::edge, 1.0f);
        const bool room = t.y(betweenLines_dB) - t.y(0.0) >= t.name.size + 2.0f;
        if (room || below == 0.0)
            pen.right(below == 0.0 ? "tone" : fmt::format("\u2212{:.0f} dB", below), t.bars.getX() - 8.0f,
                      y + 0.33f * t.name.size, t.names - 8.0f, t.name);
    }
}

std::string nameOf(Row row)
{
    switch (row) {
    case Row::order:
        return "order";
    case Row::frequency:
        return "frequency, Hz";
    case Row::below:
        return "below tone, dB";
    case Row::percent:
        return "% of tone";
    }
    return {};
}

std::string valueOf(const OrderReading& order, Row row, bool bothRows)
{
    switch (row) {
    case Row::order:
        return fmt::format("{}", order.order);
    case Row::frequency:
        return fmt::format("{:.1f}", order.frequency_Hz);
    case Row::below:
        return order.belowTone_dB ? oneDecimalText(*order.belowTone_dB) : bothRows ? "not above" : "in the noise";
    case Row::percent:
        return !order.belowTone_dB ? "the noise" : order.percent ? percentText(*order.percent) : "\u2013";
    }
    return {};
}

void drawOrder(Pen& pen, const Table& t, const OrderReading& order)
{
    const float centre = t.left(order.order) + t.column / 2.0f, room = t.column - 2.0f;
    const TextStyle quiet{t.name.size, false, colours::grey};
    const bool bothRows = t.rows.back() == Row::percent;
    for (std::size_t i = 0; i < t.rows.size(); ++i) {
        const Row row = t.rows[i];
        const bool absent = !order.belowTone_dB && (row == Row::below || row == Row::percent);
        pen.centre(valueOf(order, row, bothRows), centre, t.base(i), room,
                   absent              ? quiet
                   : row == Row::order ? t.order
                                       : t.value);
    }
    if (!order.belowTone_dB || !t.hasBars)
        return;
    const float width = std::min(40.0f, 0.5f * t.column), top = t.y(*order.belowTone_dB);
    juce::Path bar;
    bar.addRectangle(centre - width / 2.0f, top, width, std::max(1.0f, t.bars.getBottom() - top));
    pen.fill(bar, colours::measured);
}

} // namespace

Picture ordersPicture(const SpectrumContent& content, juce::Point<float> size, const Measures& m, const Fonts& fonts)
{
    Pen pen(fonts);
    const Table t = tableFor(size, m);
    if (!content.whyNoOrders.empty()) {
        sentenceInstead(pen, content.whyNoOrders, SpectrumPlot::within(size, {}, m).area, m);
        return pen.picture;
    }
    if (t.hasBars)
        drawScale(pen, t);
    for (std::size_t i = 0; i < t.rows.size(); ++i)
        pen.left(nameOf(t.rows[i]), inset, t.base(i), t.names, t.name);
    int last = 1;
    for (const auto& order : content.spectrum.orders) {
        if (order.order < 2 || order.order > 10)
            continue;
        drawOrder(pen, t, order);
        last = std::max(last, order.order);
    }
    const float room = t.bars.getRight() - t.left(last + 1) - 16.0f;
    if (last < 10 && room > t.column) {
        const std::string beyond = "higher orders lie beyond half the sampling rate";
        const int lines = pen.linesFor(beyond, room, t.name);
        if (lines <= static_cast<int>(t.rows.size()))
            pen.paragraph(beyond, t.left(last + 1) + 8.0f, t.base(0), room, t.pitch, lines, t.name);
    }
    return pen.picture;
}

Picture ordersLegend(const SpectrumContent& content, float left, float right, const Measures& m, const Fonts& fonts)
{
    Pen pen(fonts);
    const TextStyle style{m.between(11, 12), false, colours::grey}, strong{m.between(11, 12)};
    const float base = m.between(17, 22);
    const std::string state = content.state.empty() ? "" : content.state.substr(2);
    if (!content.whyNoOrders.empty()) {
        pen.left(state, left, base, right - left, style);
        return pen.picture;
    }
    const std::string total =
        content.distortion_percent ? fmt::format("total distortion {:.2f} %", *content.distortion_percent) : "";
    const std::string of = (total.empty() ? "" : ", orders 2 to 10 of ") +
                           (content.tone ? frequencyText(*content.tone) : std::string("the tone")) + content.state;
    for (const std::string& rest : {of, content.state})
        if (pen.width(total, strong) + pen.width(rest, style) <= right - left) {
            pen.left(total, left, base, pen.width(total, strong), strong);
            pen.left(rest, left + pen.width(total, strong), base, pen.width(rest, style), style);
            break;
        }
    return pen.picture;
}

} // namespace couplet
