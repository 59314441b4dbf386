// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Canvas.h"
#include "Screens/Header.h"

// Purpose: stands for a page that is not there yet: what it will do, and what does it meanwhile.
// Thread:  message.
namespace couplet {

class DescriptionPage : public juce::Component
{
public:
    explicit DescriptionPage(Page);
    void setMeasures(const Measures& m) { measures = m; }
    void resized() override;

private:
    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    const Page page;
    Measures measures;
};

// The line below every page.
const char* footerOf(Page);

} // namespace couplet
