// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/FitTablePicture.h"

#include "Screens/Pen.h"

namespace couplet {
namespace {

using What = FitRow::What;

constexpr float gap = 8.0f;

class Row
{
public:
    Row(const FitRowTexts& t, const FitRow& r, const FitRowLook& l, juce::Point<float> s, const Measures& m,
        const Fonts& fonts)
        : texts(t), row(r), look(l), size(s),
          columns(FitColumns::within(s.x, m)), plain{m.between(12, 14)}, small{m.between(11, 12), false, colours::grey},
          base(s.y / 2.0f + 0.36f * m.between(12, 14)), pen(fonts)
    {
    }

    Picture draw()
    {
        back();
        if (isSingle(row))
            reading();
        else
            group();
        return std::move(pen.picture);
    }

private:
    void back()
    {
        if (look.firstOfItsKind)
            pen.line(gap, 0.5f, size.x - gap, 0.5f, colours::edge, 1.0f);
        if (!look.target)
            return;
        juce::Path band, edge;
        band.addRoundedRectangle(juce::Rectangle<float>(size.x, size.y).reduced(0.0f, 1.0f), 4.0f);
        edge.addRectangle(0.0f, 3.0f, 2.5f, size.y - 6.0f);
        pen.fill(band, colours::measured.withAlpha(0.1f));
        pen.fill(edge, colours::measured);
    }

    // Points to the right, or down when opened.
    void triangle()
    {
        const float y = size.y / 2.0f;
        juce::Path path;
        if (look.opened)
            path.addTriangle(4.0f, y - 2.0f, 11.0f, y - 2.0f, 7.5f, y + 3.0f);
        else
            path.addTriangle(5.0f, y - 3.5f, 10.0f, y, 5.0f, y + 3.5f);
        pen.fill(path, colours::grey);
    }

    void cell(const std::string& text, float right, float room, const TextStyle& style)
    {
        pen.right(pen.shortened(text, room, style), right, base, room, style);
    }

    // "rated ±0.8", or where that has no room "±0.8".
    std::string toleranceWithin(float room) const
    {
        const std::string rated = "rated ";
        if (pen.width(texts.scatter, small) <= room)
            return texts.scatter;
        return texts.scatter.starts_with(rated) ? texts.scatter.substr(rated.size()) : "none";
    }

    // And for enough of the name before it.
    bool hasRoomForNote(float noteEnd) const
    {
        constexpr float leastOfName = 70.0f, mark = 12.0f + gap;
        const float name = noteEnd - pen.width(texts.note, small) - gap - columns.name;
        return name >= leastOfName + (texts.attention ? mark : 0.0f);
    }

    void group()
    {
        triangle();
        const bool whole = row.what == What::earphone && texts.count.empty(); // it has no insertions
        TextStyle style = plain;
        if (texts.aside)
            style.colour = colours::grey;
        // Where the mean's column is free, what became of it stands there.
        float nameEnd = whole ? columns.mean : columns.count - pen.width(texts.count, plain) - gap;
        const auto& note = whole || hasRoomForNote(nameEnd) ? texts.note : texts.shortNote;
        if (!note.empty()) {
            const TextStyle noteStyle{small.size, false, texts.attention ? colours::ink : colours::grey};
            const float noteLeft = nameEnd - pen.width(note, noteStyle);
            pen.left(note, noteLeft, base, nameEnd - noteLeft + 1.0f, noteStyle);
            nameEnd = noteLeft;
        }
        if (whole || !note.empty())
            nameEnd -= gap;
        if (texts.attention) {
            pen.mark(Mark::attention, nameEnd - 12.0f, size.y / 2.0f, 12.0f, colours::ink);
            nameEnd -= 12.0f + gap;
        }
        pen.left(pen.shortened(texts.name, nameEnd - columns.name, style), columns.name, base, nameEnd - columns.name,
                 style);
        if (!whole) {
            cell(texts.count, columns.count, columns.count - columns.name, plain);
            cell(texts.mean, columns.mean, columns.mean - columns.count - gap / 2.0f, plain);
        }
        const bool number = !whole && texts.scatter != "unknown";
        const float room = columns.scatter - columns.mean - gap / 2.0f;
        cell(whole ? toleranceWithin(room) : texts.scatter, columns.scatter, room, number ? plain : small);
        cell(texts.says, columns.says, columns.says - columns.scatter - gap, style);
        cell(texts.without, columns.without, columns.without - columns.says - gap, style);
    }

    void reading()
    {
        const float left = columns.name + 12.0f;
        const TextStyle style{plain.size, false, texts.aside ? colours::grey : colours::ink};
        const float timeWidth = pen.width(texts.count, small);
        pen.left(pen.shortened(texts.name, columns.count - timeWidth - gap - left, small), left, base,
                 columns.count - timeWidth - gap - left, small);
        pen.right(texts.count, columns.count, base, timeWidth + 1.0f, small);
        pen.right(texts.mean, columns.mean, base, columns.mean - columns.count - gap / 2.0f, style);
        if (texts.aside) {
            const float width = pen.width(texts.mean, style);
            pen.line(columns.mean - width - 2.0f, size.y / 2.0f, columns.mean + 2.0f, size.y / 2.0f, colours::grey,
                     1.2f);
        }
        float noteLeft = columns.mean + 2.0f * gap;
        if (texts.attention) {
            pen.mark(Mark::attention, noteLeft, size.y / 2.0f, 12.0f, colours::ink);
            noteLeft += 12.0f + 5.0f;
        }
        const float room = columns.without - noteLeft;
        const bool whole = texts.shortNote.empty() || pen.width(texts.note, small) <= room;
        pen.left(pen.shortened(whole ? texts.note : texts.shortNote, room, small), noteLeft, base, room, small);
    }

    const FitRowTexts& texts;
    const FitRow& row;
    const FitRowLook& look;
    const juce::Point<float> size;
    const FitColumns columns;
    const TextStyle plain, small;
    const float base;
    Pen pen;
};

} // namespace

FitColumns FitColumns::within(float width, const Measures& m)
{
    const float right = width - gap;
    return {m.between(14, 14),           right - m.between(210, 342), right - m.between(157, 250),
            right - m.between(102, 168), right - m.between(59, 84),   right};
}

Picture fitHeadings(float width, const Measures& m, const Fonts& fonts)
{
    Pen pen(fonts);
    const auto edges = FitColumns::within(width, m);
    const TextStyle style{m.between(11, 12), false, colours::grey};
    const float base = m.between(17, 24);
    pen.left("fitting", edges.name, base, edges.count - edges.name - 54.0f, style);
    pen.right("readings", edges.count, base, 54.0f, style);
    pen.right("mean dB", edges.mean, base, edges.mean - edges.count - 2.0f, style);
    pen.right("scatter s", edges.scatter, base, edges.scatter - edges.mean - 4.0f, style);
    pen.right("says", edges.says, base, edges.says - edges.scatter - 4.0f, style);
    pen.right("without it", edges.without, base, edges.without - edges.says - 4.0f, style);
    pen.line(gap, base + m.between(8, 10), width - gap, base + m.between(8, 10), colours::edge, 1.0f);
    return std::move(pen.picture);
}

Picture fitRowPicture(const FitRowTexts& texts, const FitRow& row, const FitRowLook& look, juce::Point<float> size,
                      const Measures& measures, const Fonts& fonts)
{
    return Row(texts, row, look, size, measures, fonts).draw();
}

} // namespace couplet
