// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Theme.h"

// Purpose: lists, text fields and hints in the theme's colours and typeface.
// Thread:  message.
namespace couplet {

class Look : public juce::LookAndFeel_V4
{
public:
    Look();

    juce::Font getPopupMenuFont() override;
    void drawPopupMenuBackground(juce::Graphics&, int width, int height) override;

private:
    juce::SharedResourcePointer<Fonts> fonts;
};

} // namespace couplet
