// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Picture.h"

#include <algorithm>

namespace couplet {
namespace {

using Area = std::optional<juce::Rectangle<float>>;

void join(Area& area, juce::Rectangle<float> more)
{
    area = area ? area->getUnion(more) : more;
}

juce::Rectangle<float> areaOf(const DrawnText& text)
{
    return text.ink().expanded(2.0f); // letters lean out of their advance
}
juce::Rectangle<float> areaOf(const DrawnShape& shape)
{
    return shape.bounds();
}

template <class Item> void joinChanges(Area& area, const std::vector<Item>& before, const std::vector<Item>& after)
{
    const auto common = std::min(before.size(), after.size());
    for (std::size_t i = 0; i < common; ++i)
        if (!(before[i] == after[i])) {
            join(area, areaOf(before[i]));
            join(area, areaOf(after[i]));
        }
    for (const auto* rest : {&before, &after})
        for (std::size_t i = common; i < rest->size(); ++i)
            join(area, areaOf((*rest)[i]));
}

} // namespace

float DrawnText::left() const
{
    switch (align) {
    case Align::left:
        return room.getX();
    case Align::centre:
        return room.getCentreX() - width / 2.0f;
    case Align::right:
        return room.getRight() - width;
    }
    return room.getX();
}

void Picture::draw(juce::Graphics& g, const Fonts& fonts) const
{
    for (const auto& shape : shapes) {
        if (!g.clipRegionIntersects(shape.bounds().getSmallestIntegerContainer()))
            continue;
        g.setColour(shape.colour);
        if (shape.stroke > 0.0f)
            g.strokePath(shape.path, juce::PathStrokeType(shape.stroke, juce::PathStrokeType::curved));
        else
            g.fillPath(shape.path);
    }
    for (const auto& text : texts) {
        if (!g.clipRegionIntersects(areaOf(text).getSmallestIntegerContainer()))
            continue;
        juce::GlyphArrangement glyphs;
        const auto shown = juce::String::fromUTF8(text.text.c_str());
        glyphs.addLineOfText(fonts.font(text.style, shown), shown, text.left(), text.baseline());
        g.setColour(text.style.colour);
        glyphs.draw(g);
    }
}

std::string Picture::spoken() const
{
    std::string all;
    for (const auto& text : texts)
        all += (all.empty() ? "" : ", ") + text.text;
    return all;
}

std::optional<juce::Rectangle<float>> changedArea(const Picture& before, const Picture& after)
{
    Area area;
    joinChanges(area, before.shapes, after.shapes);
    joinChanges(area, before.texts, after.texts);
    return area;
}

} // namespace couplet
