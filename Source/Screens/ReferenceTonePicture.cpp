// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ReferenceTonePicture.h"

#include "Screens/Pen.h"
#include "Screens/ReferenceWords.h"

#include <fmt/format.h>

#include <algorithm>

namespace couplet {
namespace {

void card(Pen& pen, juce::Point<float> size)
{
    pen.box(juce::Rectangle<float>(size.x, size.y).reduced(0.5f), 6.0f, colours::card, colours::edge);
}

// A filled bar while something is under way, an outline otherwise.
void drawSign(Pen& pen, const StateSign& sign, juce::Rectangle<float> area, const Measures& m)
{
    const juce::Colour paper = sign.runs ? colours::ink : colours::paper,
                       ink = sign.runs ? colours::card : colours::ink;
    pen.box(area, 6.0f, paper, colours::ink);
    TextStyle style{m.between(17, 24), true, ink};
    const float markSize = 0.8f * style.size, room = area.getWidth() - 3.0f * markSize;
    while (style.size > 10.0f && pen.width(sign.words, style) > room)
        style.size -= 0.5f;
    if (sign.mark)
        pen.mark(*sign.mark, area.getX() + 0.6f * markSize, area.getCentreY(), markSize, ink);
    pen.left(sign.words, area.getX() + 2.2f * markSize, area.getCentreY() + 0.36f * style.size, room, style);
}

struct Sentences
{
    TextStyle style;
    float pitch = 0.0f;
    std::vector<std::string> texts;

    int lines(const Pen& pen, float room) const
    {
        int count = 0;
        for (const auto& text : texts)
            count += pen.linesFor(text, room, style);
        return count;
    }
    // Says where the next line would stand.
    float draw(Pen& pen, float x, float baseline, float room, float bottom) const
    {
        for (const auto& text : texts) {
            const int needed = pen.linesFor(text, room, style);
            if (baseline + pitch * static_cast<float>(needed - 1) + Fonts::descent(style) > bottom)
                break; // whole sentences only
            baseline += pitch * static_cast<float>(pen.paragraph(text, x, baseline, room, pitch, needed, style));
        }
        return baseline;
    }
};

class Tone
{
public:
    Tone(const ReferenceView& v, juce::Point<float> s, const Measures& measures, const Fonts& fonts)
        : view(v), size(s), m(measures), pen(fonts), inset(m.between(11, 16)), right(s.x - inset)
    {
        said = {{m.between(11, 13)}, m.between(13.5f, 16.5f), stateSentences(view)};
    }

    Picture draw()
    {
        card(pen, size);
        heading();
        const float bottom = size.y - m.between(5, 10), room = right - inset;
        const float signHeight = m.between(26, 38), progress = view.canCancel ? m.between(24, 30) : 0.0f;
        const float below = signHeight + progress + m.between(4, 8) +
                            said.pitch * static_cast<float>(said.lines(pen, room)) + m.between(1, 4);
        const float signTop = std::max(next + m.between(2, 6), bottom - below);
        rows(std::max(next, signTop - m.between(3, 8)));
        drawSign(pen, stateSign(view), {inset + 0.5f, std::round(signTop) + 0.5f, room - 1.0f, signHeight}, m);
        float y = signTop + signHeight;
        if (progress > 0.0f)
            y = bar(y);
        said.draw(pen, inset, y + m.between(3, 6) + said.style.size, room, size.y - 2.0f);
        return std::move(pen.picture);
    }

private:
    void heading()
    {
        const TextStyle grey{m.between(11, 12), false, colours::grey};
        next = m.between(17, 24);
        const std::string limits = view.limitsText.empty() ? "" : "  " + view.limitsText;
        std::string text = view.limitsText;
        for (const char* question : {"Is the tone fit to be used?", "Is the tone fit?"})
            if (pen.width(question + limits, grey) <= right - inset) {
                text = question + limits;
                break;
            }
        pen.left(pen.shortened(text, right - inset, grey), inset, next, right - inset, grey);
        next += m.between(3, 6);
    }

    // Those that fail first of all; where there is no room for all, those that pass are counted.
    void rows(float bottom)
    {
        std::vector<const Check*> all;
        for (const auto* group : {&view.checks, &view.warnings})
            for (const Check& check : *group)
                all.push_back(&check);
        if (all.empty())
            return;
        const TextStyle style = rowStyle(all);
        const float least = style.size + 2.5f, room = bottom - next;
        auto fitting = static_cast<std::size_t>(std::max(0.0f, room / least));
        std::size_t passed = 0;
        if (fitting < all.size()) {
            fitting -= fitting > 0 ? 1 : 0; // the line that counts them
            while (all.size() > fitting) {
                const auto last = std::find_if(all.rbegin(), all.rend(), [](const Check* c) { return c->passes; });
                if (last == all.rend())
                    break;
                all.erase(std::next(last).base());
                ++passed;
            }
            all.resize(std::min(all.size(), fitting));
        }
        const float lines = static_cast<float>(all.size() + (passed > 0 ? 1 : 0));
        const float pitch = std::min(m.between(18, 30), room / std::max(1.0f, lines));
        next += pitch - 0.3f * (pitch - style.size) - 1.0f;
        for (const Check* check : all)
            row(*check, style, pitch);
        if (passed > 0 && fitting > 0)
            pen.left(fmt::format("{} more pass", passed), inset + style.size + 6.0f, next, right - inset - 24.0f,
                     {m.between(11, 12), false, colours::grey});
    }

    // As large as the longest of them lets it be.
    TextStyle rowStyle(const std::vector<const Check*>& all) const
    {
        TextStyle style{m.between(11.5f, 14)};
        const auto fits = [&] {
            return std::all_of(all.begin(), all.end(), [&](const Check* check) {
                const TextStyle one{style.size, !check->passes};
                return pen.width(check->name, one) + pen.width(valueText(*check), one) + style.size + 13.0f <=
                       right - inset;
            });
        };
        while (style.size > 10.0f && !fits())
            style.size -= 0.5f;
        return style;
    }

    void row(const Check& check, const TextStyle& style, float pitch)
    {
        const float markSize = 0.75f * style.size, textLeft = inset + style.size + 6.0f;
        pen.mark(check.passes ? Mark::agrees : Mark::attention, inset, next - 0.36f * style.size, markSize,
                 colours::ink);
        TextStyle strong = style;
        strong.bold = !check.passes;
        const auto value = valueText(check);
        const float width = pen.width(value, strong) + 1.0f;
        pen.right(value, right, next, width, strong);
        const float room = right - width - 6.0f - textLeft;
        pen.left(pen.shortened(check.name, room, strong), textLeft, next, room, strong);
        next += pitch;
    }

    float bar(float y)
    {
        const float height = m.between(6, 8), width = right - inset;
        const float done = static_cast<float>(std::clamp(view.progress, 0.0, 1.0));
        y += m.between(4, 7);
        juce::Path whole, part;
        whole.addRoundedRectangle(inset, y, width, height, height / 2.0f);
        pen.fill(whole, colours::edge);
        if (done > 0.0f) {
            // To half a pixel: what nobody can see needs no repaint.
            part.addRoundedRectangle(inset, y, std::max(height, std::round(2.0f * done * width) / 2.0f), height,
                                     height / 2.0f);
            pen.fill(part, colours::measured);
        }
        const TextStyle grey{m.between(11, 13), false, colours::grey};
        y += height + m.between(3, 4) + 0.8f * grey.size;
        pen.left(view.progressText, inset, y, width, grey);
        return y + m.between(1, 2);
    }

    const ReferenceView& view;
    const juce::Point<float> size;
    const Measures& m;
    Pen pen;
    const float inset, right;
    float next = 0.0f;
    Sentences said;
};

} // namespace

Picture referenceTonePicture(const ReferenceView& view, juce::Point<float> size, const Measures& measures,
                             const Fonts& fonts)
{
    return Tone(view, size, measures, fonts).draw();
}

Picture quickCheckPicture(const QuickCheck& check, juce::Point<float> size, float bottom, const Measures& m,
                          const Fonts& fonts)
{
    Pen pen(fonts);
    card(pen, size);
    const float inset = m.between(11, 16), room = size.x - 2.0f * inset;
    const TextStyle grey{m.between(11, 12), false, colours::grey};
    float y = m.between(17, 24);
    const std::string question = "Does the last reference still hold?";
    pen.left(pen.shortened(question, room, grey), inset, y, room, grey);
    y += m.between(5, 12);
    const float height = m.between(26, 38);
    drawSign(pen, checkSign(check), {inset + 0.5f, std::round(y) + 0.5f, room - 1.0f, height}, m);
    y += height + m.between(15, 24);
    const Sentences said{{m.between(11, 13)}, m.between(13, 17), {checkSentence(check)}};
    y = said.draw(pen, inset, y, room, bottom);
    if (!check.causes.empty()) {
        y += m.between(2, 8);
        pen.left("Likely:", inset, y, room, grey);
        y += said.pitch;
    }
    for (const auto& cause : check.causes) {
        const float indent = 14.0f;
        const int lines = pen.linesFor(cause, room - indent, said.style);
        if (y + said.pitch * static_cast<float>(lines - 1) > bottom)
            break;
        pen.mark(Mark::silent, inset, y - 0.33f * said.style.size, 7.0f, colours::grey);
        pen.paragraph(cause, inset + indent, y, room - indent, said.pitch, lines, said.style);
        y += said.pitch * static_cast<float>(lines) + m.between(1, 4);
    }
    if (y + Fonts::descent(grey) <= bottom)
        pen.left("Nothing was stored.", inset, y, room, grey);
    return pen.picture;
}

} // namespace couplet
