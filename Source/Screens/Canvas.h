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

} // namespace couplet
