// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Picture.h"

// Purpose: shows a picture and paints again only what differs from the one before. Listeners hear its texts.
// Thread:  message.
namespace couplet {

class Canvas : public juce::Component
{
public:
    Canvas() { setInterceptsMouseClicks(false, false); }

    void setPicture(Picture);
    const Picture& picture() const { return shown; }

    void paint(juce::Graphics&) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    juce::SharedResourcePointer<Fonts> fonts;
    Picture shown;
};

// For a list's refreshComponentForRow: the row's canvas, `before` when that is one; null, with `before` gone, where there
// is no such row.
Canvas* canvasOfRow(juce::Component* before, bool rowExists);

} // namespace couplet
