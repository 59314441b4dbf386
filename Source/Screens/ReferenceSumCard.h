// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Plugin/ReferenceView.h"
#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/Measures.h"
#include "Screens/PressureField.h"

#include <functional>

// Purpose: the sum from the calibrator to the offset, what it starts from, and what starts and ends a capture.
// Keys:    up and down go through the library's calibrators.
// Thread:  message.
namespace couplet {

class ReferenceSumCard : public juce::Component
{
public:
    ReferenceSumCard();

    void useReferences(ReferenceControls* c) { controls = c; }
    void show(const ReferenceView&);
    void setMeasures(const Measures& m) { measures = m; }
    void focusTake();

    std::function<void()> onBegins;                    // what had the keyboard goes away, for something runs
    std::function<void(const std::string&)> onRefusal; // of a pressure; empty: nothing is refused any more

    void resized() override;
    bool keyPressed(const juce::KeyPress&) override;

    Chip calibrator{Chip::Kind::opens, ""}, level{Chip::Kind::opens, ""}, seatings{Chip::Kind::opens, ""};
    Chip take{Chip::Kind::solid, "Take reference, 10 s"}, cancel{Chip::Kind::solid, "Cancel"};
    Chip keepMoved{Chip::Kind::solid, "Keep although moved"};
    PressureField pressure;

private:
    void ask(void (ReferenceControls::*)());
    void chooseCalibrator();
    void stepCalibrator(int by);
    void chooseLevel();
    void chooseSeatings();
    void setChips();
    float placeChips();
    void draw();

    juce::SharedResourcePointer<Fonts> fonts;
    ReferenceControls* controls = nullptr;
    Measures measures;
    ReferenceView view;
    Canvas canvas;
    Chip handsFree{Chip::Kind::link, "hands-free"}, check{Chip::Kind::link, "quick check, 3 s"};
    Chip second{Chip::Kind::link, "second level"}, finish{Chip::Kind::link, ""}, undo{Chip::Kind::link, ""};
};

} // namespace couplet
