// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/ReferenceView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/Measures.h"

// Purpose: the tone's fitness and the state of the capture; after a quick check, what it came to, until it is closed. It
//          takes the keyboard while a capture runs, so that nothing is pressed by a key that is held too long.
// Thread:  message.
namespace couplet {

class ReferenceToneCard : public juce::Component
{
public:
    ReferenceToneCard();

    void useReferences(ReferenceControls* c) { controls = c; }
    void show(const ReferenceView&);
    void setMeasures(const Measures& m) { measures = m; }
    bool closeCheck(); // false: none was shown

    void resized() override;
    void focusGained(FocusChangeType) override { draw(); }
    void focusLost(FocusChangeType) override { draw(); }

private:
    bool showsCheck() const { return view.check.has_value() && !checkClosed && !view.canCancel; }
    void draw();

    juce::SharedResourcePointer<Fonts> fonts;
    ReferenceControls* controls = nullptr;
    Measures measures;
    ReferenceView view;
    bool checkClosed = false;
    Canvas canvas;
    Chip take{Chip::Kind::link, "take it as reference"}, close{Chip::Kind::link, "close"};
};

} // namespace couplet
