// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/ReferenceBudgetCard.h"

#include "Screens/BudgetPicture.h"
#include "Screens/Pen.h"
#include "Screens/ReferenceWords.h"

#include <fmt/format.h>

namespace couplet {

std::size_t drawBulleted(Pen& pen, const std::vector<std::string>& sentences, juce::Rectangle<float> area,
                         const TextStyle& style, float pitch)
{
    constexpr float indent = 13.0f;
    float y = area.getY() + 0.8f * style.size;
    std::size_t drawn = 0;
    for (const auto& sentence : sentences) {
        const int lines = pen.linesFor(sentence, area.getWidth() - indent, style);
        if (y + pitch * static_cast<float>(lines - 1) + Fonts::descent(style) > area.getBottom())
            break; // in their order: the first ones matter most
        pen.mark(Mark::silent, area.getX(), y - 0.33f * style.size, 7.0f, colours::grey);
        pen.paragraph(sentence, area.getX() + indent, y, area.getWidth() - indent, pitch, lines, style);
        y += pitch * static_cast<float>(lines) + 2.0f;
        ++drawn;
    }
    return drawn;
}

ReferenceBudgetCard::ReferenceBudgetCard()
{
    addAndMakeVisible(canvas);
    canvas.setTitle("Where the uncertainty comes from");
    addAndMakeVisible(table);
    addChildComponent(all);
    table.setTooltip("each term with how it was obtained; those that are judged can be set there (key B)");
    all.setTooltip("all of them (key N)");
    table.onClick = [this] { onTable(); };
    all.onClick = [this] { onRemarks(); };
}

void ReferenceBudgetCard::show(const ReferenceView& next)
{
    view = next;
    draw();
}

void ReferenceBudgetCard::draw()
{
    if (getWidth() <= 0)
        return;
    canvas.setBounds(getLocalBounds());
    const auto size = getLocalBounds().getBottomRight().toFloat();
    const float inset = measures.between(12, 16), split = std::round((0.54f + 0.04f * measures.ease) * size.x);
    Pen pen(*fonts);
    pen.box(juce::Rectangle<float>(size.x, size.y).reduced(0.5f), 6.0f, colours::card, colours::edge);
    const TextStyle head{measures.between(12.5f, 15), true}, grey{measures.between(11, 12), false, colours::grey};
    const float base = measures.between(18, 26);
    const auto title = budgetTitle(view);
    const float titleWidth = pen.width(title, head) + 1.0f;
    pen.left(title, inset, base, titleWidth, head);
    table.setSize(measures.between(11.5f, 13));
    table.placeLeft(inset + titleWidth + measures.between(4, 10), base - 0.36f * head.size, measures.between(18, 22));
    const std::string unit = "share, and u in dB";
    const float right = split - inset;
    if (!view.budget.empty() && static_cast<float>(table.getRight()) + pen.width(unit, grey) + 10.0f < right)
        pen.right(unit, right, base, pen.width(unit, grey) + 1.0f, grey);

    const float top = base + measures.between(5, 12);
    auto bars = budgetBars(view, {split - 2.0f * inset, size.y - top - measures.between(5, 10)}, measures, *fonts);
    for (auto& shape : bars.shapes) {
        shape.path.applyTransform(juce::AffineTransform::translation(inset, top));
        pen.picture.shapes.push_back(std::move(shape));
    }
    for (auto& text : bars.texts) {
        text.room.translate(inset, top);
        pen.picture.texts.push_back(std::move(text));
    }
    drawRemarks(pen, split);
    canvas.setPicture(std::move(pen.picture));
}

void ReferenceBudgetCard::drawRemarks(Pen& pen, float left)
{
    const auto said = remarks(view);
    all.setVisible(!said.empty());
    if (said.empty())
        return;
    const auto size = getLocalBounds().getBottomRight().toFloat();
    const float inset = measures.between(12, 16), base = measures.between(18, 26);
    pen.line(left + 0.5f, 10.0f, left + 0.5f, size.y - 10.0f, colours::edge, 1.0f);
    const float x = left + inset, right = size.x - inset;
    const TextStyle head{measures.between(12, 14), true}, style{measures.between(11, 12)};
    const std::string title = "What else has to be known";
    all.setSize(measures.between(11.5f, 13));
    all.setText(fmt::format("all {}", said.size()));
    all.setTitle("All that has to be known");
    all.placeRight(right + 5.0f, base - 0.36f * head.size, measures.between(18, 22));
    pen.left(title, x, base, static_cast<float>(all.getX()) - x - 4.0f, head);
    const float top = base + measures.between(5, 9);
    drawBulleted(pen, said, {x, top, right - x, size.y - top - measures.between(4, 8)}, style,
                 style.size + measures.between(2.5f, 4));
}

} // namespace couplet
