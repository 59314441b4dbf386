// SPDX-License-Identifier: GPL-3.0-or-later
#include "Screens/Canvas.h"

namespace couplet {
namespace {

// Made when somebody listens, so that nothing is written for nobody twenty times a second.
class SpokenPicture : public juce::AccessibilityHandler
{
public:
    explicit SpokenPicture(Canvas& c) : juce::AccessibilityHandler(c, juce::AccessibilityRole::staticText), canvas(c) {}
    juce::String getTitle() const override { return canvas.getTitle(); }
    juce::String getDescription() const override { return juce::String::fromUTF8(canvas.picture().spoken().c_str()); }

private:
    Canvas& canvas;
};

} // namespace

void Canvas::setPicture(Picture next)
{
    const auto area = changedArea(shown, next);
    if (!area)
        return;
    shown = std::move(next);
    repaint(area->getSmallestIntegerContainer());
}

void Canvas::paint(juce::Graphics& g)
{
    shown.draw(g, *fonts);
}

std::unique_ptr<juce::AccessibilityHandler> Canvas::createAccessibilityHandler()
{
    return std::make_unique<SpokenPicture>(*this);
}

// What is not handed back is to be deleted, as the framework asks for; what is new, the row owns.
Canvas* canvasOfRow(juce::Component* before, bool rowExists)
{
    auto* canvas = dynamic_cast<Canvas*>(before);
    if (rowExists && canvas != nullptr)
        return canvas;
    delete before;
    return rowExists ? new Canvas : nullptr;
}

} // namespace couplet
