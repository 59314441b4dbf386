// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Marks.h"

namespace couplet {
namespace {

juce::Path polygon(std::initializer_list<juce::Point<float>> points)
{
    juce::Path path;
    path.startNewSubPath(*points.begin());
    for (const auto& p : points)
        path.lineTo(p);
    path.closeSubPath();
    return path;
}

// Strokes grow with their mark.
float thin(juce::Rectangle<float> a)
{
    return std::max(1.2f, 0.11f * a.getWidth());
}
float thick(juce::Rectangle<float> a)
{
    return std::max(1.5f, 0.15f * a.getWidth());
}

juce::Path diamond(juce::Rectangle<float> a)
{
    return polygon({{a.getCentreX(), a.getY()},
                    {a.getRight(), a.getCentreY()},
                    {a.getCentreX(), a.getBottom()},
                    {a.getX(), a.getCentreY()}});
}

juce::Path wave(juce::Rectangle<float> a, float y)
{
    const float lift = a.getHeight() * 0.3f;
    juce::Path path;
    path.startNewSubPath(a.getX(), y);
    path.cubicTo(a.getX() + a.getWidth() * 0.35f, y - lift, a.getX() + a.getWidth() * 0.65f, y + lift, a.getRight(), y);
    return path;
}

juce::Path strokes(std::initializer_list<juce::Line<float>> lines)
{
    juce::Path path;
    for (const auto& l : lines) {
        path.startNewSubPath(l.getStart());
        path.lineTo(l.getEnd());
    }
    return path;
}

std::vector<DrawnShape> halfDiamond(juce::Rectangle<float> a, juce::Colour colour)
{
    const auto left =
        polygon({{a.getCentreX(), a.getY()}, {a.getCentreX(), a.getBottom()}, {a.getX(), a.getCentreY()}});
    return {{left, colour, 0.0f}, {diamond(a), colour, thin(a)}};
}

std::vector<DrawnShape> notEqual(juce::Rectangle<float> a, juce::Colour colour)
{
    const float upper = a.getY() + a.getHeight() * 0.35f, lower = a.getY() + a.getHeight() * 0.65f;
    return {{strokes({{a.getX(), upper, a.getRight(), upper},
                      {a.getX(), lower, a.getRight(), lower},
                      {a.getX() + a.getWidth() * 0.25f, a.getBottom(), a.getX() + a.getWidth() * 0.75f, a.getY()}}),
             colour, thick(a)}};
}

std::vector<DrawnShape> triangle(juce::Rectangle<float> a, juce::Colour colour)
{
    const auto outline = polygon({{a.getCentreX(), a.getY()}, a.getBottomRight(), a.getBottomLeft()});
    const float x = a.getCentreX();
    const auto bar = strokes({{x, a.getY() + a.getHeight() * 0.38f, x, a.getY() + a.getHeight() * 0.68f},
                              {x, a.getY() + a.getHeight() * 0.80f, x, a.getY() + a.getHeight() * 0.84f}});
    return {{outline, colour, thin(a)}, {bar, colour, thin(a)}};
}

} // namespace

std::vector<DrawnShape> markShapes(Mark mark, juce::Rectangle<float> a, juce::Colour colour)
{
    switch (mark) {
    case Mark::whole:
        return {{diamond(a), colour, 0.0f}};
    case Mark::half:
        return halfDiamond(a, colour);
    case Mark::hollow:
        return {{diamond(a.reduced(0.6f)), colour, thin(a)}};
    case Mark::agrees:
        return {{strokes({{a.getX(), a.getCentreY(), a.getX() + a.getWidth() * 0.35f, a.getBottom() - 1.0f},
                          {a.getX() + a.getWidth() * 0.35f, a.getBottom() - 1.0f, a.getRight(), a.getY() + 1.0f}}),
                 colour, thick(a)}};
    case Mark::differs:
        return notEqual(a, colour);
    case Mark::unclear:
        return {{wave(a, a.getCentreY() - a.getHeight() * 0.18f), colour, thick(a)},
                {wave(a, a.getCentreY() + a.getHeight() * 0.18f), colour, thick(a)}};
    case Mark::silent: {
        juce::Path ring;
        ring.addEllipse(a.reduced(1.0f));
        return {{ring, colour, thin(a)}};
    }
    case Mark::attention:
        return triangle(a, colour);
    }
    return {};
}

juce::Path caret(float centreX, float middle, float size)
{
    return polygon({{centreX - size / 2.0f, middle - size / 4.0f},
                    {centreX + size / 2.0f, middle - size / 4.0f},
                    {centreX, middle + size / 3.0f}});
}

} // namespace couplet
