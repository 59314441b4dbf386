// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/SumPicture.h"

#include "Screens/Pen.h"

namespace couplet {
namespace {

constexpr float tagGap = 6.0f;

class Column
{
public:
    Column(const SumContent& c, juce::Point<float> s, const Measures& m, const Fonts& fonts)
        : content(c), size(s), measures(m), pen(fonts)
    {
    }

    SumPicture draw()
    {
        heading();
        if (content.number.empty())
            words();
        else
            numberAndSum();
        const int leftOut = notes();
        return {std::move(pen.picture), leftOut};
    }

private:
    void heading()
    {
        const TextStyle style{measures.between(14, 16), true, content.colour};
        const float baseline = measures.between(18, 34);
        pen.left(content.heading, 0.0f, baseline, size.x / 2.0f, style);
        // As many tags as there is room for: the first ones matter most, the last are said again below.
        const TextStyle tagStyle{measures.between(10, 12)};
        const float taken = pen.width(content.heading, style) + 12.0f;
        std::size_t count = content.tags.size();
        while (count > 0 && taken + tagsWidth(count, tagStyle) > size.x)
            --count;
        float right = size.x - 1.0f;
        for (std::size_t i = count; i-- > 0;)
            right -= pen.tag(content.tags[i], right, baseline - 1.0f, tagStyle, colours::paper) + tagGap;
    }

    float tagsWidth(std::size_t count, const TextStyle& style) const
    {
        float width = 0.0f;
        for (std::size_t i = 0; i < count; ++i)
            width += Pen::tagWidth(pen.width(content.tags[i], style)) + tagGap;
        return width;
    }

    void numberAndSum()
    {
        const float base = measures.between(62, 112), right = size.x - measures.between(64, 86);
        pen.right(content.number, right, base, right, {measures.between(46, 72), true, content.colour});
        const float unitX = right + measures.between(8, 10), room = size.x - unitX;
        pen.left(content.unit, unitX, base, room, {measures.between(14, 18), false, content.colour});
        pen.left(content.uncertainty, unitX, base - measures.between(20, 26), room,
                 {measures.between(12, 13), false, colours::grey});
        next = measures.between(84, 152);
        for (const auto& addend : content.addends)
            row(addend, false);
        if (!content.total.name.empty()) {
            const float pitch = measures.between(18, 26);
            const float rule = next - pitch + measures.between(8, 16);
            pen.line(0.0f, rule, size.x, rule, colours::ink, 1.0f);
            next = rule + measures.between(15, 22);
            row(content.total, true);
        }
    }

    // One line of the sum; a long name goes on in a second line and pushes down what follows.
    void row(const SumRow& line, bool bold)
    {
        const float right = size.x - measures.between(0, 70);
        const TextStyle value{measures.between(12.5f, 15), bold};
        const float valueRoom = pen.width("+000.00", value) + 2.0f;
        pen.right(line.value, right, next, valueRoom, value);
        const TextStyle style{measures.between(12, 14), bold};
        const float room = right - valueRoom - 6.0f, turn = style.size + 2.0f;
        const int lines = pen.paragraph(line.name, 0.0f, next, room, turn, 3, style);
        next += measures.between(18, 26) + static_cast<float>(lines - 1) * turn;
    }

    void words()
    {
        const float base = measures.between(58, 104);
        pen.left(content.words, 0.0f, base, size.x, {measures.between(24, 34), true, content.colour});
        next = base + measures.between(22, 32);
        const TextStyle style{measures.between(12.5f, 14)};
        const float pitch = style.size + 5.0f;
        next += pitch * static_cast<float>(pen.paragraph(content.reason, 0.0f, next, size.x, pitch, 6, style));
    }

    // Whole notes only, as many as there is room for.
    int notes()
    {
        const bool roomy = content.total.name.empty();
        const TextStyle style{roomy ? measures.between(11.5f, 13) : measures.between(11, 12)};
        const float pitch = style.size + (roomy ? 4.0f : 3.0f);
        if (!content.number.empty())
            next += roomy ? 1.0f : measures.between(-1, -3);
        int leftOut = 0;
        for (const auto& note : content.notes) {
            const float height = pitch * static_cast<float>(pen.linesFor(note, size.x - 12.0f, style));
            if (leftOut > 0 || next + height - pitch + Fonts::descent(style) > size.y) {
                ++leftOut;
                continue;
            }
            pen.mark(Mark::silent, 0.0f, next - 0.33f * style.size, 7.0f, colours::grey);
            pen.paragraph(note, 12.0f, next, size.x - 12.0f, pitch, 20, style);
            next += height + 1.0f;
        }
        return leftOut;
    }

    const SumContent& content;
    const juce::Point<float> size;
    const Measures& measures;
    Pen pen;
    float next = 0.0f; // baseline of the next line
};

} // namespace

SumPicture sumPicture(const SumContent& content, juce::Point<float> size, const Measures& measures, const Fonts& fonts)
{
    return Column(content, size, measures, fonts).draw();
}

} // namespace couplet
