// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "Screens/Canvas.h"
#include "Screens/Chip.h"
#include "Screens/VoltsField.h"

#include "Plugin/LiveView.h"

#include <vector>

// Purpose: bars that stand above a page only while there is a reason: a muted loop, sentences about host and
//          session, and what lies on the simulated coupler.
// Units:   heights in pixels; 0: the bar is not there.
// Thread:  message.
namespace couplet {

// Sentences, one below the other.
class NoticeBar : public juce::Component
{
public:
    NoticeBar();
    void show(const LiveView&);
    void show(std::vector<std::string>); // any other sentences
    float heightFor(float width) const;
    void resized() override;

private:
    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    std::vector<std::string> sentences;
};

// A loop that rose was muted, and how to have the sound back.
class LoopBar : public juce::Component
{
public:
    explicit LoopBar(Controls&);
    void show(const LiveView&);
    float heightFor(float width) const;
    void resized() override;

private:
    juce::SharedResourcePointer<Fonts> fonts;
    Canvas canvas;
    Chip unmute{Chip::Kind::solid, "Unmute", 13.0f};
    bool muted = false;
};

} // namespace couplet
